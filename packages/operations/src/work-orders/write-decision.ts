import { createHash } from 'node:crypto';
import {
  type DecisionLineRow,
  type DecisionRow,
  insertDecision,
  type ShownEstimateLine,
  type StoredEstimate,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type AccessLinkId,
  type AnswerRight,
  type Day,
  type DecisionId,
  dayWords,
  displayMoney,
  type EstimatePrice,
  type JsonValue,
  ok,
  type PersonId,
  type Result,
  type StandingApprovalId,
  type StandingSums,
  type WorkOrderEvent,
} from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { advance } from '../work-order-path.ts';
import type { LineAnswer } from './estimate-version.ts';
import { idReused } from './first-request.ts';

/** How a person’s answer came here: on the account’s own page, by a link, or through somebody of the staff. */
export type WayToAnswer = 'here' | 'by_link' | 'in_person' | 'by_phone' | 'in_writing';

/** A person of the account, or what the account agreed to beforehand. */
export type AnsweredBy =
  | {
      readonly kind: 'person';
      readonly personId: PersonId;
      readonly name: string;
      /** Their own, or that of whoever they answer for. */
      readonly right: AnswerRight;
      readonly recordedBy: PersonId | null;
      readonly given: WayToAnswer;
      /** Of an answer by link. */
      readonly linkId: AccessLinkId | null;
      /** What `seenContent` says of it. */
      readonly seen: string;
    }
  /** Nobody: there is nothing to pay. */
  | { readonly kind: 'without_charge' }
  | {
      readonly kind: 'rule';
      readonly standingApprovalId: StandingApprovalId;
      readonly text: string;
      readonly day: Day;
      readonly sums: StandingSums;
    };

export interface DecisionToWrite {
  readonly id: DecisionId;
  readonly workOrder: WorkOrderRow;
  readonly estimate: StoredEstimate;
  readonly answers: readonly LineAnswer[];
  /** Of the approved lines. */
  readonly price: EstimatePrice;
  readonly by: AnsweredBy;
}

export interface WrittenDecision {
  readonly decision: DecisionRow;
  readonly lines: readonly DecisionLineRow[];
  readonly state: 'approved' | 'declined';
}

/** Stores the answer to a version with its prices frozen, and takes the work order to where it leads. */
export async function writeDecision(scope: Scope, write: DecisionToWrite): Promise<Result<WrittenDecision>> {
  const { estimate, by } = write;
  const lines = estimate.lines.map((line) => frozenLine(line, write.answers, write.price));
  const decision = decisionOf(scope, write);
  if (!(await insertDecision(scope.tx, decision, lines))) return idReused();
  const state = stateAfter(lines);
  const event: WorkOrderEvent = { type: by.kind === 'rule' ? 'approved_by_rule' : state };
  const note = stepNote(decision, lines, by, estimate.version.currency);
  const advanced = await advance(scope, write.workOrder, event, { decisionId: decision.id }, note);
  if (!advanced.ok) return advanced;
  await record(
    scope,
    'estimate_answered',
    { kind: 'decision', id: decision.id },
    auditDetail(decision, lines),
  );
  return ok({ decision, lines, state });
}

export function stateAfter(lines: readonly DecisionLineRow[]): 'approved' | 'declined' {
  return lines.some((line) => line.answer === 'approved') ? 'approved' : 'declined';
}

function decisionOf(
  scope: Scope,
  { id, workOrder, estimate: { version }, price, by }: DecisionToWrite,
): DecisionRow {
  return {
    id,
    workOrderId: version.workOrderId,
    accountId: workOrder.accountId,
    versionId: version.id,
    digest: version.digest,
    ...answeredBy(by),
    decidedAt: scope.now,
    comparedMinor: price.limitMinor,
    repairsMinor: price.vehicle.repairsMinor,
    minimumMinor: price.vehicle.minimum?.netMinor ?? 0n,
    afterHoursMinor: price.visit.afterHours?.amountMinor ?? 0n,
    rushMinor: price.visit.rush?.amountMinor ?? 0n,
    visitMinimumMinor: price.visit.minimum?.amountMinor ?? 0n,
    tripMinor: price.visit.trip?.amountMinor ?? 0n,
    taxMinor: price.invoice.totals.taxMinor,
    totalMinor: price.invoice.totals.withTaxMinor,
  };
}

function answeredBy(by: AnsweredBy) {
  const noRule = { standingApprovalId: null, ruleText: null, ruleDay: null };
  const noSums = { ruleVisitMinor: null, ruleMonthMinor: null };
  if (by.kind === 'person') {
    const { personId: decidedBy, recordedBy, given, right, linkId, seen } = by;
    const { limitMinor, delegated } = right;
    const delegationId = delegated?.id ?? null;
    const seenDigest = createHash('sha256').update(seen, 'utf8').digest('hex');
    const person = { decidedBy, recordedBy, given, limitMinor, delegationId, linkId };
    return { ...person, seen, seenDigest, ...noRule, ...noSums };
  }
  const nobody = { decidedBy: null, recordedBy: null, limitMinor: null, delegationId: null, ...nothingSeen };
  if (by.kind === 'without_charge')
    return { ...nobody, given: 'without_charge' as const, ...noRule, ...noSums };
  return {
    ...nobody,
    given: 'by_rule' as const,
    standingApprovalId: by.standingApprovalId,
    ruleText: by.text,
    ruleDay: by.day,
    ruleVisitMinor: by.sums.visitMinor,
    ruleMonthMinor: by.sums.monthMinor,
  };
}

const nothingSeen = { linkId: null, seen: null, seenDigest: null };

/** An approved line at its new price; a declined one stays on record at the price it was offered at. */
function frozenLine(
  offered: ShownEstimateLine,
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

const givenWords = { in_person: 'in person', by_phone: 'by phone', in_writing: 'in writing' } as const;

function stepNote(
  decision: DecisionRow,
  lines: readonly DecisionLineRow[],
  by: AnsweredBy,
  currency: string,
): string {
  if (by.kind === 'rule') return ruleNote(by, currency);
  if (by.kind === 'without_charge') return 'A rework without charge: there is nothing to agree to.';
  const approved = lines.filter((line) => line.answer === 'approved').length;
  const said = givenNote(by);
  if (approved === 0) return `${said}Every line declined.`;
  const total = displayMoney(decision.totalMinor, currency);
  return `${said}${approved} of ${lines.length} ${lines.length === 1 ? 'line' : 'lines'}, ${total}.`;
}

function givenNote({ given, name, right }: Extract<AnsweredBy, { kind: 'person' }>): string {
  const { delegated } = right;
  const inPlace =
    delegated === null ? '' : `In the place of ${delegated.forName}, until ${dayWords(delegated.through)}. `;
  if (given === 'here') return inPlace;
  const said = givenHow(given, name);
  return `${said}${inPlace}`;
}

function givenHow(given: Exclude<WayToAnswer, 'here'>, name: string): string {
  return given === 'by_link' ? 'By the link in the mail. ' : `${name} said so ${givenWords[given]}. `;
}

function ruleNote({ text, sums }: Extract<AnsweredBy, { kind: 'rule' }>, currency: string): string {
  const amount = (minor: bigint) => displayMoney(minor, currency);
  const compared = `this vehicle ${amount(sums.vehicleMinor)}, the visit ${amount(sums.visitMinor)}, the month ${amount(sums.monthMinor)}`;
  return `Approved by standing approval: ${text}. Compared: ${compared}.`;
}

function auditDetail(decision: DecisionRow, lines: readonly DecisionLineRow[]): JsonValue {
  return {
    work_order_id: decision.workOrderId,
    version_id: decision.versionId,
    digest: decision.digest,
    decided_by: decision.decidedBy,
    given: decision.given,
    standing_approval_id: decision.standingApprovalId,
    limit_minor: decision.limitMinor?.toString() ?? null,
    delegation_id: decision.delegationId,
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
