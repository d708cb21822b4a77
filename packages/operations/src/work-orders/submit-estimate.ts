import { enqueueJob, findAuditDetail, findEstimate, type WorkOrderRow } from '@grainwright/db';
import { type Result, refuse, transition, type VersionId, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import { answerByRule } from './answer-by-rule.ts';
import { idReused } from './first-request.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { momentWords } from './moment-words.ts';
import { makeVersion } from './send-version.ts';
import type { WorkOrderView } from './work-order-view.ts';

export interface SubmitEstimateInput {
  readonly workOrderId: WorkOrderId;
  /** Of the estimate's version, made by the client. */
  readonly versionId: VersionId;
}

/**
 * Sends the estimate for approval: its price is frozen as version 1 with a digest of what the approver will see. Where a
 * standing approval of the account covers it, it is approved at once; else the account’s approvers are asked by mail.
 * Refuses with `line_missing`, `price_by_hand`, `photo_missing` (a before picture for every line that repairs
 * damage), `duplicate` where it was sent under another id, `wrong_state`, `id_reused` or `not_found`.
 */
export function submitEstimate(
  services: Services,
  actor: Actor,
  input: SubmitEstimateInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'change_estimate', async (scope) => {
    const { workOrderId, versionId } = input;
    const opened = await openWorkOrder(scope, workOrderId);
    if (!opened.ok) return opened;
    const sent = await findEstimate(scope.tx, versionId);
    if (sent !== null)
      return sent.version.workOrderId === workOrderId && (await wasSubmitted(scope, versionId))
        ? loadWorkOrder(scope, workOrderId)
        : idReused();
    if (opened.value.state === 'awaiting_approval') return sentBefore(scope, opened.value);
    const allowed = transition(opened.value.state, { type: 'submitted' });
    if (!allowed.ok) return allowed;
    const made = await makeVersion(scope, { workOrderId, versionId, newLineIds: [] });
    if (!made.ok) return made;
    const advanced = await advance(
      scope,
      opened.value,
      { type: 'submitted' },
      { currentVersionId: versionId },
    );
    if (!advanced.ok) return advanced;
    const sentOff = { ...opened.value, state: advanced.value, currentVersionId: versionId };
    const answered = await answerByRule(scope, sentOff, made.value);
    if (!answered.ok) return answered;
    if (!answered.value) await enqueueJob(scope.tx, 'ask_for_approval', versionId);
    return loadWorkOrder(scope, workOrderId);
  });
}

/** Not put in place of another one. */
async function wasSubmitted({ tx }: Scope, versionId: VersionId): Promise<boolean> {
  return (await findAuditDetail(tx, versionId, 'estimate_revised')) === null;
}

async function sentBefore(scope: Scope, { currentVersionId }: WorkOrderRow): Promise<Result<never>> {
  const sent = currentVersionId === null ? null : await findEstimate(scope.tx, currentVersionId);
  if (sent === null) throw new Error('a work order waits for an answer to nothing');
  const { version, madeAt } = sent.version;
  const at = momentWords(madeAt, scope.business.timeZone);
  return refuse('duplicate', `It is already sent (version ${version}, ${at}).`);
}
