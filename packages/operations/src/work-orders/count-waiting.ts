import { countWaitingWorkOrders, type WaitingCounts } from '@grainwright/db';
import { type AccountId, allows, ok, type PersonId, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** How many work orders wait for what; for a technician, of their own visits. */
export function countWaiting(
  services: Services,
  actor: Actor,
  input: { readonly accountId?: AccountId | undefined; readonly technicianId?: PersonId | undefined } = {},
): Promise<Result<WaitingCounts>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx, member }) => {
    const technicianId = allows(member.role, 'see_all_work_orders') ? input.technicianId : actor.personId;
    return ok(await countWaitingWorkOrders(tx, { accountId: input.accountId, technicianId }));
  });
}
