import type { LineId, Result, WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWrittenUp, removeLineFrom } from './line-change.ts';
import { loadWorkOrder } from './load-work-order.ts';
import type { WorkOrderView } from './work-order-view.ts';

/**
 * Takes a line away while the work order is written up. One that photos show is withdrawn: it stays on record with them
 * and counts no more. Refuses with `wrong_state` or `not_found`.
 */
export function removeLine(
  services: Services,
  actor: Actor,
  input: { readonly workOrderId: WorkOrderId; readonly lineId: LineId },
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const opened = await openWrittenUp(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const removed = await removeLineFrom(scope, opened.value, input.lineId);
    return removed.ok ? loadWorkOrder(scope, input.workOrderId) : removed;
  });
}
