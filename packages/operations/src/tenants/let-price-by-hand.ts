import { findStaffRow, setPricesByHand } from '@grainwright/db';
import { ok, type PersonId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

/**
 * Lets one of the staff give lines a price by hand, or no longer; the owner's to do. Owner and office price by hand by
 * their role, whatever is set here. Repeating it changes nothing, and what was priced stays.
 */
export function letPriceByHand(
  services: Services,
  actor: Actor,
  { personId, pricesByHand }: { readonly personId: PersonId; readonly pricesByHand: boolean },
): Promise<Result<void>> {
  return performAsStaff(services, actor, 'manage_staff', async (scope) => {
    const member = await findStaffRow(scope.tx, personId);
    if (member === null) return refuse('not_found', 'There is no such member of the staff.');
    if (member.pricesByHand === pricesByHand) return ok(undefined);
    await setPricesByHand(scope.tx, { personId, pricesByHand });
    const subject = { kind: 'person', id: personId };
    await record(scope, 'price_by_hand_let', subject, { prices_by_hand: pricesByHand });
    return ok(undefined);
  });
}
