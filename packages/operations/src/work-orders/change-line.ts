import type { Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { AddLineInput } from './add-line.ts';
import { changeLineOf, openWrittenUp } from './line-change.ts';
import { loadWorkOrder } from './load-work-order.ts';
import type { WorkOrderView } from './work-order-view.ts';

/** Puts a line in place of what it said, while the work order is written up. Refuses as `addLine` does. */
export function changeLine(
  services: Services,
  actor: Actor,
  input: AddLineInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const opened = await openWrittenUp(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const changed = await changeLineOf(scope, opened.value, input);
    return changed.ok ? loadWorkOrder(scope, input.workOrderId) : changed;
  });
}
