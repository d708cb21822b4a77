import { findApprovalAsk, listAskableApprovers } from '@grainwright/db';
import {
  type ApprovalAskId,
  dayWords,
  displayMoney,
  ok,
  type PersonId,
  type Result,
  refuse,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { idReused } from '../work-orders/first-request.ts';
import { askByMail, noteStep } from './ask-by-mail.ts';
import { type Asked, type AskedEstimate, askedEstimateOf } from './asked-estimate.ts';

export interface AskAgainInput {
  /** Made by the client: the same id for the same person again asks once. */
  readonly askId: ApprovalAskId;
  readonly workOrderId: WorkOrderId;
  /** The approver who is asked. */
  readonly personId: PersonId;
}

/**
 * Asks an approver by a new mail with a new link about the estimate that waits; links given before go on opening.
 * Refuses with `wrong_state` what does not wait, `estimate_expired`, `invalid_input` where mail does not reach them,
 * `id_reused` or `not_found`.
 */
export function askAgain(
  services: Services,
  actor: Actor,
  input: AskAgainInput,
): Promise<Result<ApprovalAskId>> {
  return performAsStaff(services, actor, 'give_links', async (scope) => {
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const before = await findApprovalAsk(scope.tx, input.askId);
    if (before !== null)
      return before.workOrderId === input.workOrderId && before.personId === input.personId
        ? ok(before.id)
        : idReused();
    const { state, currentVersionId, accountId } = opened.value;
    if (state !== 'awaiting_approval' || currentVersionId === null)
      return refuse(
        'wrong_state',
        `This work order is “${workOrderStates[state]}”, so there is nothing to ask. Open it again.`,
      );
    const estimate = await askedEstimateOf(scope, currentVersionId);
    const { expiresOn } = estimate.estimate.version;
    if (expiresOn < scope.today)
      return refuse(
        'estimate_expired',
        `This estimate was good through ${dayWords(expiresOn)}. Send a new version; its approvers are asked with it.`,
      );
    const approvers = await listAskableApprovers(scope.tx, accountId, scope.today);
    const person = approvers.find((each) => each.personId === input.personId);
    if (person === undefined)
      return refuse('invalid_input', 'Choose somebody who may approve for this account.', 'person_id');
    return ask(scope, services, { estimate, person, askId: input.askId });
  });
}

async function ask(
  scope: Scope,
  services: Services,
  {
    estimate,
    person,
    askId,
  }: { readonly estimate: AskedEstimate; readonly person: Asked; readonly askId: ApprovalAskId },
): Promise<Result<ApprovalAskId>> {
  const asked = await askByMail(scope, services, {
    person,
    askId,
    estimates: [estimate],
    why: () => 'asked_again',
    whyWords: () => aboveLimit(estimate, person),
  });
  if (asked.ok) await noteStep(scope, estimate, 'asked', `${person.name} was asked again by e-mail.`);
  return asked;
}

function aboveLimit({ comparedMinor, currency }: AskedEstimate, { limitMinor }: Asked): string {
  if (limitMinor === null || comparedMinor <= limitMinor) return '';
  return `Before trip and tax it is ${displayMoney(comparedMinor, currency)}, above your limit of ${displayMoney(limitMinor, currency)}. Decline lines, or pass your answer on.`;
}
