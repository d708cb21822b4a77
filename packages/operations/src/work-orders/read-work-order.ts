import { ok, type Result, type WorkOrderId } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { whyTakenAgain } from './taken-again.ts';
import type { WorkOrderView } from './work-order-view.ts';

/**
 * A work order with its lines, estimate, answer, photos, acceptance, invoice and path: for staff any of the business,
 * for contacts those of their account. Refuses with `not_found`.
 */
export async function readWorkOrder(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
): Promise<Result<WorkOrderView>> {
  const view = await perform(services, actor, 'see_work_orders', (scope) => loadWorkOrder(scope, id));
  if (!view.ok || actor.accountId === null) return view;
  return ok(await whyTakenAgain(services, actor.tenantId, view.value));
}
