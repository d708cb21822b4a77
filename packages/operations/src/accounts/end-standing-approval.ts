import { findStandingApproval, lockStandingApprovals, setStandingApprovalEnd } from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type Day,
  dayWords,
  ok,
  parseDay,
  type Result,
  refuse,
  type StandingApprovalId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface EndStandingApprovalInput {
  readonly id: StandingApprovalId;
  readonly accountId: AccountId;
  /** Its last day; yesterday is the earliest, with which it counts no more from now on. */
  readonly validTo: string;
}

/**
 * Ends a standing approval. What it approved stays approved. Repeating it changes nothing; refuses with
 * `dates_out_of_order` a day that is past, before it began or would lengthen it.
 */
export function endStandingApproval(
  services: Services,
  actor: Actor,
  input: EndStandingApprovalInput,
): Promise<Result<{ id: StandingApprovalId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx, today } = scope;
    const { id, accountId } = input;
    const last = parseDay(input.validTo.trim(), 'valid_to');
    if (!last.ok) return last;
    await lockStandingApprovals(tx, accountId);
    const approval = await findStandingApproval(tx, id);
    if (approval === null || approval.accountId !== accountId)
      return refuse('not_found', 'There is no such standing approval.');
    if (approval.validTo === last.value) return ok({ id });
    const fits = checkLastDay(last.value, approval, today);
    if (!fits.ok) return fits;
    await setStandingApprovalEnd(tx, id, last.value);
    await record(
      scope,
      'standing_approval_ended',
      { kind: 'account', id: accountId },
      { standing_approval: id, from: approval.validTo, to: last.value },
    );
    return ok({ id });
  });
}

function checkLastDay(
  last: Day,
  { validFrom, validTo }: { readonly validFrom: Day; readonly validTo: Day | null },
  today: Day,
): Result<void> {
  const refused = (detail: string) => refuse('dates_out_of_order', detail, 'valid_to');
  const yesterday = addDays(today, -1);
  if (last < yesterday)
    return refused(
      `The earliest last day is yesterday, ${dayWords(yesterday)}: then it counts no more from now on. What it approved before stays.`,
    );
  if (last < addDays(validFrom, -1))
    return refused(`It starts on ${validFrom}. To take it back, write the day before.`);
  if (validTo !== null && last > validTo)
    return refused(`It ends on ${validTo} already. Set another one for the days after.`);
  return ok(undefined);
}
