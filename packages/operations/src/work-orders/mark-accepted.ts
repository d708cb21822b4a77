import type { WorkOrderRow } from '@grainwright/db';
import type { Result, WorkOrderState } from '@grainwright/domain';
import { advance, type StepScope } from '../work-order-path.ts';

/**
 * The end of the work itself, whichever way it came: signed, let go without a signature, or not asked for. A rework
 * without charge ends here for good.
 */
export function markAccepted(
  scope: StepScope,
  workOrder: Pick<WorkOrderRow, 'id' | 'state' | 'reworkOfId'>,
  how: 'accepted' | 'released',
  note: string,
): Promise<Result<WorkOrderState>> {
  const type = workOrder.reworkOfId === null ? how : 'reworked_done';
  return advance(scope, workOrder, { type }, {}, note);
}
