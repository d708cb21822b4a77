import { lockOwners, lockStaffMember, setStaffEnd } from '@grainwright/db';
import { ok, type PersonId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

/**
 * Ends somebody's work for the business, today; the owner's to do. Access is read from the business's own rows on every
 * request, so the next one is refused. What they did and signed keeps their name. Repeating it changes nothing. The
 * last owner can't be ended (`not_allowed`): nobody could give access any more.
 */
export function endStaffMember(
  services: Services,
  actor: Actor,
  input: { readonly personId: PersonId },
): Promise<Result<void>> {
  const { personId } = input;
  return performAsStaff(services, actor, 'manage_staff', async (scope) => {
    const { tx, today } = scope;
    const owners = await lockOwners(tx, today);
    const member = await lockStaffMember(tx, personId);
    if (member === null) return refuse('not_found', 'There is no such member of the staff.');
    if (member.endedOn !== null && member.endedOn <= today) return ok(undefined);
    if (owners.every((owner) => owner === personId))
      return refuse('not_allowed', 'This is the last owner. Add another owner first.', 'person_id');
    await setStaffEnd(tx, { personId, endedOn: today });
    await record(scope, 'staff_member_ended', { kind: 'person', id: personId }, { ended_on: today });
    return ok(undefined);
  });
}
