import { ok, type Result, type TenantId } from '@grainwright/domain';
import { noteUnanswered } from '../owners/no-answer.ts';
import { askForNumbers } from './ask-for-numbers.ts';
import { askThoseWhoStandIn } from './ask-those-who-stand-in.ts';
import { lapseEstimates } from './lapse-estimates.ts';
import { remindPeople } from './remind-people.ts';
import { inTenant, type SweepServices } from './sweep-scope.ts';

/** What came of one look at what waits for accounts. */
export interface Swept {
  /** Estimates that lapsed. */
  readonly lapsed: number;
  /** Mails to delegates, reminders, and questions for numbers. */
  readonly delegates: number;
  readonly reminders: number;
  readonly numbers: number;
  /** Links to vehicles' owners that nobody answered until their last day. */
  readonly ownersSilent: number;
}

/**
 * Looks at everything that waits for accounts of a business: lets lapse what nobody answered, asks once more, and asks
 * for numbers that finished work lacks; puts on record which vehicles' owners did not answer. So much at once; whatever is left is for the next time. Looking twice, or in two
 * processes, does nothing twice.
 */
export async function sweepWaiting(services: SweepServices, tenantId: TenantId): Promise<Result<Swept>> {
  const lapsed = await lapseEstimates(services, tenantId);
  if (!lapsed.ok) return lapsed;
  const delegates = await askThoseWhoStandIn(services, tenantId);
  if (!delegates.ok) return delegates;
  const reminders = await remindPeople(services, tenantId);
  if (!reminders.ok) return reminders;
  const numbers = await askForNumbers(services, tenantId);
  if (!numbers.ok) return numbers;
  const ownersSilent = await noteSilentOwners(services, tenantId);
  if (!ownersSilent.ok) return ownersSilent;
  return ok({
    lapsed: lapsed.value,
    delegates: delegates.value,
    reminders: reminders.value,
    numbers: numbers.value,
    ownersSilent: ownersSilent.value,
  });
}

async function noteSilentOwners(services: SweepServices, tenantId: TenantId): Promise<Result<number>> {
  const place = await inTenant(services, tenantId, async ({ timeZone }) => ok(timeZone));
  return place.ok ? noteUnanswered(services, tenantId, place.value) : place;
}
