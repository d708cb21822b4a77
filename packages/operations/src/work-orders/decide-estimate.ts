import {
  type DecisionLineRow,
  type DecisionRow,
  type EstimateLineRow,
  findDecision,
  insertDecision,
  type StoredDecision,
} from '@grainwright/db';
import {
  type AccountId,
  type DecisionId,
  displayMoney,
  type EstimatePrice,
  type JsonValue,
  ok,
  type PersonId,
  parseMinor,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsContact, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import {
  type Answerable,
  type LineAnswer,
  openAnswerable,
  priceAnswers,
  type SeenVersion,
} from './estimate-version.ts';
import { idReused } from './first-request.ts';
import type { DecisionView } from './work-order-view.ts';

export interface DecideEstimateInput extends SeenVersion {
  /** Made by the client: the same id with the same answer is the same decision. */
  readonly decisionId: DecisionId;
  readonly workOrderId: WorkOrderId;
  readonly answers: readonly LineAnswer[];
  /** The total that was shown for these answers, as a decimal string. */
  readonly total: string;
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
    const { personId, name, limitMinor } = scope.member;
    return decide(scope, input, { personId, name, limitMinor, recordedBy: null, given: 'here' });
  });
}

/** Whose answer it is, up to what amount, and how it came here. */
export interface Decider {
  readonly personId: PersonId;
  readonly name: string;
  readonly limitMinor: bigint | null;
  readonly recordedBy: PersonId | null;
  readonly given: DecisionRow['given'];
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
  const lines = estimate.value.lines.map((line) => frozenLine(line, input.answers, price.value));
  const decision = decisionOf(
    scope,
    input.decisionId,
    workOrder.accountId,
    estimate.value,
    price.value,
    decider,
  );
  if (!(await insertDecision(scope.tx, decision, lines))) return idReused();
  const state = stateAfter(lines);
  const { currency } = estimate.value.version;
  const note = stepNote(decision, lines, decider, currency);
  const advanced = await advance(scope, workOrder, { type: state }, { decisionId: decision.id }, note);
  if (!advanced.ok) return advanced;
  await record(
    scope,
    'estimate_answered',
    { kind: 'decision', id: decision.id },
    auditDetail(decision, lines),
  );
  return ok({
    workOrderId: workOrder.id,
    state,
    currency,
    decision: decisionView(decision, lines, decider.name),
  });
}

function checkAllowed(
  scope: Scope,
  input: DecideEstimateInput,
  { version }: Answerable,
  price: EstimatePrice,
  { limitMinor, name, recordedBy }: Decider,
): Result<true> {
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
  if (limitMinor !== null && price.limitMinor > limitMinor)
    return refuse(
      'over_limit',
      `Repairs and after-hours come to ${amount(price.limitMinor)}; ${recordedBy === null ? 'your' : `${name}’s`} limit is ${amount(limitMinor)}. Decline lines, or ask somebody with a higher limit.`,
    );
  if (approves && version.expiresOn < scope.today)
    return refuse(
      'estimate_expired',
      `This estimate was good through ${version.expiresOn}. Ask ${scope.business.name} for a new one.`,
    );
  return ok(true);
}

function decisionOf(
  scope: Scope,
  id: DecisionId,
  accountId: AccountId,
  { version }: Answerable,
  price: EstimatePrice,
  decider: Decider,
): DecisionRow {
  return {
    id,
    workOrderId: version.workOrderId,
    accountId,
    versionId: version.id,
    digest: version.digest,
    decidedBy: decider.personId,
    recordedBy: decider.recordedBy,
    given: decider.given,
    decidedAt: scope.now,
    limitMinor: decider.limitMinor,
    comparedMinor: price.limitMinor,
    repairsMinor: price.vehicle.repairsMinor,
    minimumMinor: price.vehicle.minimum?.netMinor ?? 0n,
    afterHoursMinor: price.visit.afterHours?.amountMinor ?? 0n,
    tripMinor: price.visit.trip?.amountMinor ?? 0n,
    taxMinor: price.invoice.totals.taxMinor,
    totalMinor: price.invoice.totals.withTaxMinor,
  };
}

/** An approved line at its new price; a declined one stays on record at the price it was offered at. */
function frozenLine(
  offered: EstimateLineRow,
  answers: readonly LineAnswer[],
  price: EstimatePrice,
): DecisionLineRow {
  const approved = price.vehicle.lines.find((line) => line.lineId === offered.lineId);
  const { furtherPercent, netMinor, laborMinor, materialsMinor, trail } = approved ?? offered;
  return {
    lineId: offered.lineId,
    answer: approved === undefined ? 'declined' : 'approved',
    reason: answers.find((each) => each.lineId === offered.lineId)?.reason.trim() ?? '',
    furtherPercent,
    netMinor,
    laborMinor,
    materialsMinor,
    trail,
  };
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
    decision: decisionView(decision, lines, known.decidedByName),
  });
}

function sameAnswers(lines: readonly DecisionLineRow[], answers: readonly LineAnswer[]): boolean {
  if (lines.length !== answers.length) return false;
  return answers.every(({ lineId, answer, reason }) =>
    lines.some((line) => line.lineId === lineId && line.answer === answer && line.reason === reason.trim()),
  );
}

function stateAfter(lines: readonly DecisionLineRow[]): Decided['state'] {
  return lines.some((line) => line.answer === 'approved') ? 'approved' : 'declined';
}

const givenWords = { in_person: 'in person', by_phone: 'by phone', in_writing: 'in writing' } as const;

function stepNote(
  decision: DecisionRow,
  lines: readonly DecisionLineRow[],
  decider: Decider,
  currency: string,
): string {
  const approved = lines.filter((line) => line.answer === 'approved').length;
  const said = decider.given === 'here' ? '' : `${decider.name} said so ${givenWords[decider.given]}. `;
  if (approved === 0) return `${said}Every line declined.`;
  const total = displayMoney(decision.totalMinor, currency);
  return `${said}${approved} of ${lines.length} ${lines.length === 1 ? 'line' : 'lines'}, ${total}.`;
}

function auditDetail(decision: DecisionRow, lines: readonly DecisionLineRow[]): JsonValue {
  return {
    work_order_id: decision.workOrderId,
    version_id: decision.versionId,
    digest: decision.digest,
    decided_by: decision.decidedBy,
    given: decision.given,
    limit_minor: decision.limitMinor?.toString() ?? null,
    compared_minor: decision.comparedMinor.toString(),
    total_minor: decision.totalMinor.toString(),
    lines: lines.map(({ lineId, answer, reason, netMinor }) => ({
      line_id: lineId,
      answer,
      reason,
      net_minor: netMinor.toString(),
    })),
  };
}

export function decisionView(
  row: DecisionRow,
  lines: readonly DecisionLineRow[],
  decidedBy: string,
): DecisionView {
  const { id, versionId, decidedAt, repairsMinor, minimumMinor, afterHoursMinor } = row;
  const { tripMinor, taxMinor, totalMinor } = row;
  return {
    id,
    versionId,
    decidedBy,
    decidedAt,
    repairsMinor,
    minimumMinor,
    afterHoursMinor,
    tripMinor,
    taxMinor,
    totalMinor,
    lines: lines.map(({ lineId, answer, reason, netMinor, laborMinor, materialsMinor, trail }) => ({
      lineId,
      answer,
      reason,
      netMinor,
      laborMinor,
      materialsMinor,
      trail,
    })),
  };
}
