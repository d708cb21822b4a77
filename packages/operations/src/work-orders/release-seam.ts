import { insertWorkOrderStep } from '@grainwright/db';
import { ok, type Result, refuse, type WorkOrderId, type WorkOrderState } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { blockedSeam, seamReleased } from './cautions.ts';
import { approvedLines, readWork } from './work-lines.ts';

/**
 * Releases the work on a seam that may cover a side airbag, with a reason; only the owner of the business may. Once
 * released, releasing again changes nothing.
 */
export function releaseSeam(
  services: Services,
  actor: Actor,
  input: { readonly workOrderId: WorkOrderId; readonly reason: string },
): Promise<Result<{ readonly state: WorkOrderState }>> {
  return performAsStaff(services, actor, 'release_blocked_line', async (scope) => {
    const reason = readWords(input.reason, 'reason', 'why this seam may be sewn', 500);
    if (!reason.ok) return reason;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { id, state } = opened.value;
    const work = await readWork(scope, id);
    if (!work.ok) return work;
    if (work.value.approved === null)
      return refuse('nothing_approved', 'No line is approved, so there is no seam to release.');
    if ((await blockedSeam(scope, id, approvedLines(work.value))) === null) return ok({ state });
    await insertWorkOrderStep(scope.tx, {
      id: scope.newId(),
      workOrderId: id,
      event: seamReleased,
      toState: state,
      personId: scope.actor.personId,
      happenedAt: scope.now,
      note: reason.value,
    });
    await record(scope, 'work_order_seam_released', { kind: 'work_order', id }, { reason: reason.value });
    return ok({ state });
  });
}
