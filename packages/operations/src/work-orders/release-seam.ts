import { insertSeamRelease, insertWorkOrderStep, listSeamReleases, type WorkOrderRow } from '@grainwright/db';
import {
  type LineId,
  ok,
  type Result,
  refuse,
  seamIsBlocked,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { isOf } from './cautions.ts';
import { approvedLines, readWork, type WorkLine } from './work-lines.ts';

export interface ReleaseSeamInput {
  readonly workOrderId: WorkOrderId;
  /** The line to release; every other one stays as it is. */
  readonly lineId: LineId;
  readonly reason: string;
}

/**
 * Releases the work on one seam that may cover a side airbag, with a reason; only the owner of the business may, also
 * before re-sewing is planned there. Once released, releasing again changes nothing. Refuses with `nothing_approved`,
 * `not_found` or `invalid_input`.
 */
export function releaseSeam(
  services: Services,
  actor: Actor,
  input: ReleaseSeamInput,
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
    const line = approvedLines(work.value).find((each) => each.id === input.lineId);
    if (line === undefined)
      return refuse('not_found', 'This work order has no such approved line. Open it again.');
    if (!seamIsBlocked({ parts: [line.part], methods: ['re_sew'] })) return ok({ state });
    const releases = await listSeamReleases(scope.tx, id);
    if (!releases.some((release) => isOf(release, line)))
      await release(scope, opened.value, line, reason.value);
    return ok({ state });
  });
}

async function release(
  scope: Scope,
  { id, state }: WorkOrderRow,
  line: WorkLine,
  reason: string,
): Promise<void> {
  await insertSeamRelease(scope.tx, {
    id: scope.newId(),
    workOrderId: id,
    lineId: line.id,
    part: line.part,
    side: line.side ?? '',
    reason,
    releasedBy: scope.actor.personId,
    releasedAt: scope.now,
  });
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: id,
    event: 'seam_released',
    toState: state,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note: `${line.label}: ${reason}`,
  });
  const subject = { kind: 'work_order', id };
  await record(scope, 'work_order_seam_released', subject, { line_id: line.id, reason });
}
