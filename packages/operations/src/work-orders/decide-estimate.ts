import { type DecisionLineRow, enqueueJob, findDecision, type StoredDecision } from '@grainwright/db';
import {
  type AccessLinkId,
  type Answerer,
  type AnswerRight,
  answerRight,
  type DecisionId,
  dayWords,
  displayMoney,
  type EstimatePrice,
  ok,
  type PersonId,
  type PhotoId,
  parseMinor,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { seenContent } from '../approvals/seen-content.ts';
import { type Actor, performAsContact, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { decisionView } from './decision-view.ts';
import {
  type Answerable,
  type LineAnswer,
  openAnswerable,
  priceAnswers,
  type SeenVersion,
} from './estimate-version.ts';
import { idReused } from './first-request.ts';
import type { DecisionView } from './work-order-view.ts';
import { stateAfter, type WayToAnswer, writeDecision } from './write-decision.ts';

export interface DecideEstimateInput extends SeenVersion {
  /** Made by the client: the same id with the same answer is the same decision. */
  readonly decisionId: DecisionId;
  readonly workOrderId: WorkOrderId;
  readonly answers: readonly LineAnswer[];
  /** The total that was shown for these answers, as a decimal string. */
  readonly total: string;
  /** The photos that stood on the page with it; left out where that is not known. */
  readonly photoIds?: readonly PhotoId[] | undefined;
}

export interface Decided {
  readonly workOrderId: WorkOrderId;
  /** What the decision led to. */
  readonly state: Extract<WorkOrderState, 'approved' | 'declined'>;
  readonly currency: string;
  readonly decision: DecisionView;
}

/**
 * A contact answers the version they saw, line by line. The rest is priced again without the declined lines, and each
 * line's price is frozen with the answer. Of several people at once the first one counts. Refuses with
 * `version_superseded`, `already_decided`, `over_limit`, `shown_changed`, `estimate_expired`, `invalid_input`,
 * `invalid_money`, `wrong_state` or `id_reused`.
 */
export function decideEstimate(
  services: Services,
  actor: Actor,
  input: DecideEstimateInput,
): Promise<Result<Decided>> {
  return performAsContact(services, actor, 'decide_estimate', (scope) => {
    const { personId, name } = scope.member;
    const linkId = scope.actor.linkId ?? null;
    const given = linkId === null ? 'here' : 'by_link';
    return decide(scope, input, { personId, name, answerer: scope.member, recordedBy: null, given, linkId });
  });
}

/** Whose answer it is, up to what amount, and how it came here. */
export interface Decider {
  readonly personId: PersonId;
  readonly name: string;
  readonly answerer: Answerer;
  readonly recordedBy: PersonId | null;
  readonly given: WayToAnswer;
  readonly linkId: AccessLinkId | null;
}

export async function decide(
  scope: Scope,
  input: DecideEstimateInput,
  decider: Decider,
): Promise<Result<Decided>> {
  const opened = await openWorkOrder(scope, input.workOrderId);
  if (!opened.ok) return opened;
  const workOrder = opened.value;
  const known = await findDecision(scope.tx, input.decisionId);
  if (known !== null) return sameAgain(known, input, decider, scope.business.currency);
  const estimate = await openAnswerable(scope, workOrder, input);
  if (!estimate.ok) return estimate;
  const price = priceAnswers(estimate.value, input.answers);
  if (!price.ok) return price;
  const allowed = checkAllowed(scope, input, estimate.value, price.value, decider);
  if (!allowed.ok) return allowed;
  const { answers, photoIds } = input;
  const seen = await seenContent(scope, { estimate: estimate.value, answers, price: price.value, photoIds });
  if (!seen.ok) return seen;
  const written = await writeDecision(scope, {
    id: input.decisionId,
    workOrder,
    estimate: estimate.value,
    answers,
    price: price.value,
    by: { kind: 'person', ...decider, right: allowed.value, seen: seen.value },
  });
  if (!written.ok) return written;
  await enqueueJob(scope.tx, 'tell_answer', input.decisionId);
  const { decision, lines, state } = written.value;
  return ok({
    workOrderId: workOrder.id,
    state,
    currency: estimate.value.version.currency,
    decision: decisionView(decision, lines, {
      decidedByName: decider.name,
      answeredFor: allowed.value.delegated && {
        name: allowed.value.delegated.forName,
        through: allowed.value.delegated.through,
      },
    }),
  });
}

function checkAllowed(
  scope: Scope,
  input: DecideEstimateInput,
  { version }: Answerable,
  price: EstimatePrice,
  { answerer, name, recordedBy }: Decider,
): Result<AnswerRight> {
  const amount = (minor: bigint) => displayMoney(minor, version.currency);
  const shown = parseMinor(input.total, { currency: version.currency, field: 'total' });
  if (!shown.ok) return shown;
  const totalMinor = price.invoice.totals.withTaxMinor;
  if (shown.value !== totalMinor)
    return refuse(
      'shown_changed',
      `These answers come to ${amount(totalMinor)}, not the ${amount(shown.value)} that was shown. Look at the new total and answer again.`,
      'total',
    );
  const approves = price.vehicle.lines.length > 0;
  const right = answerRight(answerer, price.limitMinor);
  if (right === null) return refuse('not_allowed', 'Only an approver of the account answers this.');
  const { limitMinor, delegated } = right;
  if (limitMinor !== null && price.limitMinor > limitMinor)
    return refuse(
      'over_limit',
      `Repairs and after-hours come to ${amount(price.limitMinor)}; ${recordedBy === null ? 'your' : `${name}’s`} limit${delegated === null ? '' : `, answering for ${delegated.forName},`} is ${amount(limitMinor)}. Decline lines, or ask somebody with a higher limit.`,
    );
  if (approves && version.expiresOn < scope.today)
    return refuse(
      'estimate_expired',
      `This estimate was good through ${dayWords(version.expiresOn)}. Ask ${scope.business.name} for a new one.`,
    );
  return ok(right);
}

function sameAgain(
  known: StoredDecision,
  input: DecideEstimateInput,
  decider: Decider,
  currency: string,
): Result<Decided> {
  const { decision, lines } = known;
  const total = parseMinor(input.total, { currency, field: 'total' });
  const same =
    decision.workOrderId === input.workOrderId &&
    decision.versionId === input.versionId &&
    decision.decidedBy === decider.personId &&
    decision.given === decider.given &&
    total.ok &&
    total.value === decision.totalMinor &&
    sameAnswers(lines, input.answers);
  if (!same) return idReused();
  return ok({
    workOrderId: decision.workOrderId,
    state: stateAfter(lines),
    currency,
    decision: decisionView(decision, lines, known),
  });
}

function sameAnswers(lines: readonly DecisionLineRow[], answers: readonly LineAnswer[]): boolean {
  if (lines.length !== answers.length) return false;
  return answers.every(({ lineId, answer, reason }) =>
    lines.some((line) => line.lineId === lineId && line.answer === answer && line.reason === reason.trim()),
  );
}
