import { enqueueJob, findEstimate, type StoredEstimate, type WorkOrderRow } from '@grainwright/db';
import {
  type LineId,
  ok,
  type Result,
  refuse,
  transition,
  type VersionId,
  type WorkOrderEvent,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { toStoredJson } from '../stored-json.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import { answerByRule } from './answer-by-rule.ts';
import { contentDigest, idReused, madeBefore } from './first-request.ts';
import { addLineTo, changeLineOf, linesOf, removeLineFrom, type WrittenLine } from './line-change.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { makeVersion } from './send-version.ts';
import type { WorkOrderView } from './work-order-view.ts';

export interface ReviseEstimateInput {
  readonly workOrderId: WorkOrderId;
  /** Of the new version, made by the client. */
  readonly versionId: VersionId;
  readonly added: readonly WrittenLine[];
  readonly changed: readonly WrittenLine[];
  readonly removed: readonly LineId[];
  /** Why prices below the floor may be charged, where the owner of the business sends it; they consent with it. */
  readonly floorReason?: string | undefined;
}

/**
 * Puts a new version in place of the estimate that was sent, with lines added, changed or removed, or with none to
 * renew it: an answer to the old version is refused from then on. What became dearer after approval has to be
 * approved again. Refuses as `addLine` and `submitEstimate` do, and with `wrong_state` where an approval stands and
 * nothing became dearer.
 */
export function reviseEstimate(
  services: Services,
  actor: Actor,
  input: ReviseEstimateInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const digest = contentDigest(toStoredJson(input));
    const before = await madeBefore(scope, input.versionId, 'estimate_revised', digest);
    if (!before.ok) return before;
    if (before.value !== null) return loadWorkOrder(scope, input.workOrderId);
    const revised = await revise(scope, opened.value, input);
    if (!revised.ok) return revised;
    await recordRevision(scope, input, digest);
    return loadWorkOrder(scope, input.workOrderId);
  });
}

async function revise(
  scope: Scope,
  workOrder: WorkOrderRow,
  input: ReviseEstimateInput,
): Promise<Result<true>> {
  const { workOrderId, versionId } = input;
  const old = workOrder.currentVersionId && (await findEstimate(scope.tx, workOrder.currentVersionId));
  if (!old)
    return refuse('wrong_state', 'No estimate was sent yet. Change the lines themselves, then send it.');
  const allowed = transition(workOrder.state, { type: 'price_changed', change: 'other' });
  if (!allowed.ok) return allowed;
  if ((await findEstimate(scope.tx, versionId)) !== null) return idReused();
  const changed = await changeLines(scope, workOrder, input);
  if (!changed.ok) return changed;
  const newLineIds = input.added.map(({ lineId }) => lineId);
  const { floorReason } = input;
  const made = await makeVersion(scope, { workOrderId, versionId, newLineIds, floorReason });
  if (!made.ok) return made;
  const change = changeBetween(old, made.value);
  if (change === 'down' && workOrder.state !== 'awaiting_approval')
    return refuse(
      'wrong_state',
      'Nothing became dearer, so the approval stands as it is. What is charged too much is credited after the invoice.',
    );
  const event: WorkOrderEvent = { type: 'price_changed', change };
  const note = `Version ${made.value.version.version} in place of version ${old.version.version}.`;
  const advanced = await advance(
    scope,
    workOrder,
    event,
    { currentVersionId: versionId, decisionId: null },
    note,
  );
  if (!advanced.ok) return advanced;
  const sentOff = {
    ...workOrder,
    state: advanced.value,
    currentVersionId: versionId,
    decisionId: null,
  };
  const answered = await answerByRule(scope, sentOff, made.value);
  if (!answered.ok) return answered;
  if (!answered.value) await enqueueJob(scope.tx, 'ask_for_approval', versionId);
  return ok(true);
}

async function changeLines(
  scope: Scope,
  workOrder: WorkOrderRow,
  input: ReviseEstimateInput,
): Promise<Result<true>> {
  const lines = await linesOf(scope, workOrder);
  for (const lineId of input.removed) {
    const removed = await removeLineFrom(scope, lines, lineId);
    if (!removed.ok) return removed;
  }
  for (const line of input.changed) {
    const changed = await changeLineOf(scope, lines, line);
    if (!changed.ok) return changed;
  }
  for (const line of input.added) {
    const added = await addLineTo(scope, lines, line);
    if (!added.ok) return added;
  }
  return ok(true);
}

/** `down` only when no line came, and neither a line's own price nor the whole became dearer. */
function changeBetween(old: StoredEstimate, made: StoredEstimate): 'down' | 'other' {
  const before = new Map(old.lines.map((line) => [line.lineId, line.beforeFurtherMinor]));
  const noDearer = made.lines.every((line) => {
    const was = before.get(line.lineId);
    return was !== undefined && line.beforeFurtherMinor <= was;
  });
  return noDearer && made.version.totalMinor <= old.version.totalMinor ? 'down' : 'other';
}

async function recordRevision(scope: Scope, input: ReviseEstimateInput, digest: string): Promise<void> {
  await record(
    scope,
    'estimate_revised',
    { kind: 'estimate_version', id: input.versionId },
    { work_order_id: input.workOrderId, content: digest },
  );
}
