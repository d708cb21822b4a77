import type { Result, WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { madeBefore } from './first-request.ts';
import { addLineTo, lineDigest, openWrittenUp, type WrittenLine } from './line-change.ts';
import { loadWorkOrder } from './load-work-order.ts';
import type { WorkOrderView } from './work-order-view.ts';

export interface AddLineInput extends WrittenLine {
  readonly workOrderId: WorkOrderId;
}

/**
 * Writes down a line while the work order is written up, and answers with all of it priced. Refuses as `readLine`
 * does, and with `duplicate` (the same part of the vehicle was written up lately and nobody has said that this is
 * another damage), `wrong_state`, `id_reused` or `not_found`.
 */
export function addLine(
  services: Services,
  actor: Actor,
  input: AddLineInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const { workOrderId, lineId, line } = input;
    const there = await openWorkOrder(scope, workOrderId);
    if (!there.ok) return there;
    const before = await madeBefore(scope, lineId, 'line_added', lineDigest(workOrderId, line));
    if (!before.ok) return before;
    if (before.value !== null) return loadWorkOrder(scope, workOrderId);
    const opened = await openWrittenUp(scope, workOrderId);
    if (!opened.ok) return opened;
    const added = await addLineTo(scope, opened.value, input);
    return added.ok ? loadWorkOrder(scope, workOrderId) : added;
  });
}
