import type { Result, WorkOrderId } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadWorkOrder } from './load-work-order.ts';
import type { WorkOrderView } from './work-order-view.ts';

/**
 * A work order with its lines, estimate, answer, photos, acceptance, invoice and path: for staff any of the business,
 * for contacts those of their account. Refuses with `not_found`.
 */
export function readWorkOrder(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
): Promise<Result<WorkOrderView>> {
  return perform(services, actor, 'see_work_orders', (scope) => loadWorkOrder(scope, id));
}
