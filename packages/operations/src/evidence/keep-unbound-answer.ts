import { hasAuditNaming } from '@grainwright/db';
import { ok, type Problem, type ProblemCode } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import type { KeptSignature } from './keep-signature.ts';
import type { AnswerToTake } from './take-answer.ts';

const action = 'acceptance_not_bound';

/** Why an answer can't be bound to the work any more, whatever is mended on the phone: it has to be signed anew, if at all. */
const notBound: readonly ProblemCode[] = [
  'shown_changed',
  'already_accepted',
  'wrong_state',
  'signer_not_fitting',
];

/**
 * Somebody signed on a phone without signal, and what they signed is not bound to the work: that they did, to what, and
 * why it does not count, stays on record, once for each answer. Does nothing for what can be put right on the
 * phone and sent again.
 */
export async function keepUnboundAnswer(
  services: Services,
  actor: Actor,
  input: AnswerToTake,
  { picture, problem }: { readonly picture: KeptSignature; readonly problem: Problem },
): Promise<void> {
  const { acceptanceId, workOrderId, answeredAt = null } = input;
  if (answeredAt === null || !notBound.includes(problem.code)) return;
  await performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const opened = await openWorkOrder(scope, workOrderId);
    if (!opened.ok) return opened;
    const named = { action, name: 'answer', value: acceptanceId };
    if (await hasAuditNaming(scope.tx, workOrderId, named)) return ok(null);
    await record(
      scope,
      action,
      { kind: 'work_order', id: workOrderId },
      {
        answer: acceptanceId,
        why: problem.code,
        outcome: input.outcome,
        signer_name: input.signerName,
        signer_role: input.signerRole,
        method: input.mark.kind,
        signature: picture.signatureSha256,
        answered_at: answeredAt,
        shown_digest: input.shownDigest,
      },
    );
    return ok(null);
  });
}
