import {
  type ApproverRow,
  type DecisionSignatureRow,
  findDecision,
  findWorkOrder,
  insertDecisionSignature,
  listApproverRows,
  listCountingDelegations,
} from '@grainwright/db';
import {
  canonicalJson,
  checkSignatureMark,
  ok,
  type PersonId,
  type Result,
  refuse,
  type SignatureMark,
  type WorkOrderId,
} from '@grainwright/domain';
import { thenInvoiceAtOnce } from '../billing/issue-at-once.ts';
import { strokesOf } from '../evidence/take-answer.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { drawn } from './acceptance-view.ts';
import { type Decided, type DecideEstimateInput, decide } from './decide-estimate.ts';
import { idReused } from './first-request.ts';
import { findApprover } from './preview-decision.ts';

export interface RecordDecisionInput extends DecideEstimateInput {
  /** Who of the account said it. */
  readonly decidedBy: PersonId;
  readonly given: 'in_person' | 'by_phone' | 'in_writing';
  /** Drawn or typed by whoever said it, beside the vehicle; only with an answer given in person. */
  readonly signature?: GivenSignature | undefined;
}

export interface GivenSignature {
  readonly mark: SignatureMark;
  /** Who drew it, in the house account of walk-ins the vehicle's owner; empty: the contact by name. */
  readonly signerName?: string | undefined;
  readonly device: string;
}

/**
 * Writes down the answer that a named contact gave to somebody of the staff. It counts as the contact's own, within
 * the contact's own limit; who wrote it down and how it was said stays on record, and the signature where there is one.
 * Refuses as `decideEstimate` does, and with `signature_missing` an empty signature.
 */
export async function recordDecision(
  services: Services,
  actor: Actor,
  input: RecordDecisionInput,
): Promise<Result<Decided>> {
  const decided = await writeDown(services, actor, input);
  // A no may have been all that the visit's invoice waited for.
  return thenInvoiceAtOnce(services, actor, input.workOrderId, decided);
}

function writeDown(services: Services, actor: Actor, input: RecordDecisionInput): Promise<Result<Decided>> {
  return performAsStaff(services, actor, 'record_decision', async (scope) => {
    const approver = await findApprover(scope, input.workOrderId, input.decidedBy);
    if (!approver.ok) return approver;
    const { personId, name } = approver.value;
    const mark = input.signature === undefined ? ok(null) : checkSignature(input.signature, input.given);
    if (!mark.ok) return mark;
    const known = await findDecision(scope.tx, input.decisionId);
    const recordedBy = scope.member.personId;
    const decider = {
      personId,
      name,
      answerer: approver.value,
      recordedBy,
      given: input.given,
      linkId: null,
    };
    const decided = await decide(scope, input, decider);
    if (!decided.ok || mark.value === null) return decided;
    return sign(scope, decided.value, {
      known: known?.signature ?? null,
      isNew: known === null,
      signer: signerOf(input.signature) || name,
      mark: mark.value,
      device: input.signature?.device ?? '',
    });
  });
}

function checkSignature(
  signature: GivenSignature,
  given: RecordDecisionInput['given'],
): Result<SignatureMark> {
  if (given !== 'in_person')
    return refuse(
      'invalid_input',
      'Only somebody who is there can sign. Leave the signature out.',
      'signature',
    );
  if (signerOf(signature).length > signerLettersMax)
    return refuse('invalid_input', `A name has at most ${signerLettersMax} letters.`, 'signer_name');
  return checkSignatureMark(signature.mark);
}

const signerLettersMax = 100;

function signerOf(signature: GivenSignature | undefined): string {
  return (signature?.signerName ?? '').trim().replace(/\s+/g, ' ');
}

interface Signing {
  readonly known: DecisionSignatureRow | null;
  readonly isNew: boolean;
  readonly signer: string;
  readonly mark: SignatureMark;
  readonly device: string;
}

/** Keeps the signature with the decision it was made for; sent again it has to be the same one. */
async function sign(scope: Scope, decided: Decided, signing: Signing): Promise<Result<Decided>> {
  const { known, isNew, mark } = signing;
  const strokes = strokesOf(mark);
  const same = known?.method === mark.kind && canonicalJson(known.strokes ?? null) === canonicalJson(strokes);
  if (!isNew && !same) return idReused();
  const row = {
    decisionId: decided.decision.id,
    signerName: mark.kind === 'typed' ? mark.name : signing.signer,
    method: mark.kind,
    strokes,
    device: signing.device.slice(0, 300),
    takenBy: scope.actor.personId,
    signedAt: scope.now,
  };
  if (isNew) await insertDecisionSignature(scope.tx, row);
  const { signerName, method } = row;
  const signature = { signerName, method, drawn: strokes === null ? null : drawn(strokes) };
  return ok({ ...decided, decision: { ...decided.decision, signature } });
}

export type Approver = ApproverRow;

/**
 * Whose yes the staff may write down for a work order: the approvers of its account with their limits, then whoever just
 * now answers for one of them.
 */
export function listApprovers(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly Approver[]>> {
  return performAsStaff(services, actor, 'record_decision', async ({ tx, today, now, business }) => {
    const found = await findWorkOrder(tx, workOrderId);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    const accountId = found.account.id;
    const approvers = await listApproverRows(tx, accountId, today);
    const counting = await listCountingDelegations(tx, { accountId }, { now, timeZone: business.timeZone });
    const delegates = counting
      .filter(({ toPersonId }) => !approvers.some(({ personId }) => personId === toPersonId))
      .map((each) => ({
        personId: each.toPersonId,
        name: `${each.toName} for ${each.forName}`,
        limitMinor: each.limitMinor,
      }));
    return ok([...approvers, ...delegates]);
  });
}
