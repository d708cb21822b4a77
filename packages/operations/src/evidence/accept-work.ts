import { type AcceptanceRow, findAcceptance } from '@grainwright/db';
import { canonicalJson, ok, type Result, type WorkOrderState } from '@grainwright/domain';
import { acceptedThenInvoiced } from '../billing/issue-at-once.ts';
import { writeCopy } from '../owners/write-copy.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { type KeptSignature, keepSignature } from './keep-signature.ts';
import { keepUnboundAnswer } from './keep-unbound-answer.ts';
import {
  type AcceptedWork,
  type AnswerToTake,
  accepted,
  fitAnswer,
  reusedId,
  type SignedAnswer,
  strokesOf,
  writeAnswer,
} from './take-answer.ts';

/** Under its client-made id the same answer sent again counts once. */
export type AcceptWorkInput = AnswerToTake;

/**
 * Writes down what the vehicle's owner or the account's representative answered, bound to exactly what they were
 * shown: their digest must be the one of what is there now, else `shown_changed`. A yes ends the work; a no is kept
 * and the work stays done, to be mended and asked again. Refuses with `already_accepted`, `wrong_state`,
 * `signature_missing`, `signer_not_fitting`, `contradiction`, `invalid_input` or `id_reused`. What was signed on a phone
 * without signal and is refused leaves a record that it was.
 */
export async function acceptWork(
  services: Services,
  actor: Actor,
  input: AcceptWorkInput,
): Promise<Result<AcceptedWork>> {
  const allowed = await performAsStaff(services, actor, 'take_acceptance', async () => ok(true));
  if (!allowed.ok) return allowed;
  const picture = await keepSignature(services, actor.tenantId, input.mark);
  const answered = await performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const written = await answer(scope, input, picture);
    return written.ok ? withCopy(services, scope, written.value, input) : written;
  });
  if (!answered.ok) await keepUnboundAnswer(services, actor, input, { picture, problem: answered.problem });
  return acceptedThenInvoiced(services, actor, input.workOrderId, answered);
}

async function answer(
  scope: Scope,
  input: AcceptWorkInput,
  picture: KeptSignature,
): Promise<Result<AcceptedWork>> {
  const opened = await openWorkOrder(scope, input.workOrderId);
  if (!opened.ok) return opened;
  const earlier = await findAcceptance(scope.tx, input.acceptanceId);
  if (earlier !== null) return sameAgain(earlier, input, opened.value.state);
  const fitting = await fitAnswer(scope, input, picture);
  return fitting.ok ? writeAnswer(scope, fitting.value, null) : fitting;
}

/** Where the signer said at once where their copy goes. */
async function withCopy(
  services: Services,
  scope: Scope,
  accepted: AcceptedWork,
  { acceptanceId, copy }: AcceptWorkInput,
): Promise<Result<AcceptedWork>> {
  if (copy === undefined || copy === null) return ok(accepted);
  const row = await findAcceptance(scope.tx, acceptanceId);
  if (row === null) throw new Error('an answer that was just written is gone');
  const given = await writeCopy(services, scope, { wish: copy, rows: [row], givenBy: scope.actor.personId });
  return given.ok ? ok({ ...accepted, copy: given.value }) : given;
}

function sameAgain(
  stored: AcceptanceRow,
  input: AcceptWorkInput,
  state: WorkOrderState,
): Result<AcceptedWork> {
  const same =
    stored.workOrderId === input.workOrderId &&
    stored.shownDigest === input.shownDigest &&
    stored.visitSignatureId === null &&
    isSameAnswer(stored, input);
  return same ? { ok: true, value: accepted(stored, state) } : reusedId();
}

/** Whether a stored answer says and is signed the same. */
export function isSameAnswer(stored: AcceptanceRow, input: SignedAnswer): boolean {
  return (
    stored.outcome === input.outcome &&
    stored.remark === input.remark.trim() &&
    stored.signerName === input.signerName.trim().replace(/\s+/g, ' ') &&
    stored.signerRole === input.signerRole &&
    stored.method === input.mark.kind &&
    stored.signerEmail === (input.signerEmail?.trim() ?? '') &&
    stored.signerPhone === (input.signerPhone?.trim() ?? '') &&
    canonicalJson(stored.strokes ?? null) === canonicalJson(strokesOf(input.mark))
  );
}
