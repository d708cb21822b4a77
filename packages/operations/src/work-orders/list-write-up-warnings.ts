import { findAuditDetail, findWorkOrder } from '@grainwright/db';
import { ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** What was doubted about a vehicle when it was written up, in sentences. Refuses with `not_found`. */
export function listWriteUpWarnings(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly string[]>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx }) => {
    if ((await findWorkOrder(tx, workOrderId)) === null)
      return refuse('not_found', 'There is no such work order.');
    const detail = await findAuditDetail(tx, workOrderId, 'work_order_written_up');
    const isRecord = detail !== null && typeof detail === 'object' && 'warnings' in detail;
    return ok(isRecord && Array.isArray(detail.warnings) ? detail.warnings.map(String) : []);
  });
}
