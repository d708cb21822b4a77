import { type ApproverRow, findWorkOrder, listApproverRows } from '@grainwright/db';
import { ok, type PersonId, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type Decided, type DecideEstimateInput, decide } from './decide-estimate.ts';
import { findApprover } from './preview-decision.ts';

export interface RecordDecisionInput extends DecideEstimateInput {
  /** Who of the account said it. */
  readonly decidedBy: PersonId;
  readonly given: 'in_person' | 'by_phone' | 'in_writing';
}

/**
 * Writes down the answer that a named contact gave to somebody of the staff. It counts as the contact's own, within
 * the contact's own limit; who wrote it down and how it was said stays on record. Refuses as `decideEstimate` does.
 */
export function recordDecision(
  services: Services,
  actor: Actor,
  input: RecordDecisionInput,
): Promise<Result<Decided>> {
  return performAsStaff(services, actor, 'record_decision', async (scope) => {
    const approver = await findApprover(scope, input.workOrderId, input.decidedBy);
    if (!approver.ok) return approver;
    const { personId, name, limitMinor } = approver.value;
    return decide(scope, input, {
      personId,
      name,
      limitMinor,
      recordedBy: scope.member.personId,
      given: input.given,
    });
  });
}

export type Approver = ApproverRow;

/** Whose yes the staff may write down for a work order: the approvers of its account, with their limits. */
export function listApprovers(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly Approver[]>> {
  return performAsStaff(services, actor, 'record_decision', async ({ tx, today }) => {
    const found = await findWorkOrder(tx, workOrderId);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    return ok(await listApproverRows(tx, found.account.id, today));
  });
}
