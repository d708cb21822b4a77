import {
  type Contact,
  findApprovalBefore,
  findContact,
  findWorkOrder,
  listAskableApprovers,
  listShownLines,
  type ShownEstimateLine,
} from '@grainwright/db';
import {
  type AccountId,
  type Answerer,
  answerRight,
  changeOfTotal,
  type Day,
  type Decimal,
  type EstimatePrice,
  furthestRight,
  type LineId,
  nextWhoMay,
  ok,
  type PersonId,
  type Result,
  refuse,
  type TotalChange,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsContact, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import {
  type Answerable,
  type LineAnswer,
  openAnswerable,
  priceAnswers,
  type SeenVersion,
} from './estimate-version.ts';
import { loadQuotes, type QuotedView, replaceableLines } from './replacement-view.ts';

export interface PreviewDecisionInput extends SeenVersion {
  readonly workOrderId: WorkOrderId;
  readonly answers: readonly LineAnswer[];
}

/** What an answer will come to, before it is given. Amounts are minor units of `currency`. */
export interface DecisionPreview {
  readonly workOrderId: WorkOrderId;
  readonly versionId: VersionId;
  readonly version: number;
  readonly digest: string;
  readonly currency: string;
  readonly lines: readonly PreviewedLine[];
  /** Of the approved lines, with their minimum. */
  readonly repairsMinor: bigint;
  readonly minimumMinor: bigint;
  readonly minimumTrail: string;
  readonly afterHoursMinor: bigint;
  readonly afterHoursTrail: string;
  readonly rushMinor: bigint;
  readonly rushTrail: string;
  /** What lifts the visit to its minimum, if this is its only vehicle. */
  readonly visitMinimumMinor: bigint;
  readonly visitMinimumTrail: string;
  readonly tripMinor: bigint;
  readonly tripTrail: string;
  /** What the trip was with every line: declining can lift a waiver. */
  readonly offeredTripMinor: bigint;
  readonly offeredTripTrail: string;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** What the estimate came to with every line. */
  readonly offeredTotalMinor: bigint;
  /** What the limit is compared with: repairs and after-hours, before trip and tax. */
  readonly comparedMinor: bigint;
  /** Null: the person answers without a limit. */
  readonly limitMinor: bigint | null;
  readonly withinLimit: boolean;
  /** Above the limit: who may approve as much and can be asked by mail; null where nobody is, or nobody needs to be. */
  readonly passTo: { readonly personId: PersonId; readonly name: string } | null;
  /** In whose place the answer would be given, and until when that counts; null for an answer of one’s own. */
  readonly answersFor: { readonly name: string; readonly through: Day } | null;
  readonly expired: boolean;
  /** Against what was approved of an earlier version; null where nothing was. */
  readonly increase: TotalChange | null;
  /** What new parts would cost for what these answers approve. */
  readonly quoted: QuotedView;
}

export interface PreviewedLine {
  readonly lineId: LineId;
  readonly description: string;
  readonly answer: 'approved' | 'declined';
  readonly reason: string;
  readonly offeredMinor: bigint;
  /** What it will cost; null for a declined line, which is not billed. */
  readonly netMinor: bigint | null;
  readonly furtherPercent: Decimal;
  readonly trail: string;
}

/**
 * Prices a contact's answers before they are sent, from the version alone, and tells whether they are within the
 * contact's limit. Changes nothing. Refuses as `openAnswerable` and `priceAnswers` do.
 */
export function previewDecision(
  services: Services,
  actor: Actor,
  input: PreviewDecisionInput,
): Promise<Result<DecisionPreview>> {
  return performAsContact(services, actor, 'decide_estimate', (scope) => preview(scope, input, scope.member));
}

/** As `previewDecision`, for an answer that a contact gave to the staff: the contact's limit is the one that holds. */
export function previewRecordedDecision(
  services: Services,
  actor: Actor,
  input: PreviewDecisionInput & { readonly decidedBy: PersonId },
): Promise<Result<DecisionPreview>> {
  return performAsStaff(services, actor, 'record_decision', async (scope) => {
    const approver = await findApprover(scope, input.workOrderId, input.decidedBy);
    return approver.ok ? preview(scope, input, approver.value) : approver;
  });
}

/** The contact who said yes or no to somebody of the staff: one who may answer for the account, or for somebody of it. */
export async function findApprover(
  scope: Scope,
  workOrderId: WorkOrderId,
  personId: PersonId,
): Promise<Result<Contact>> {
  const found = await findWorkOrder(scope.tx, workOrderId);
  if (found === null) return refuse('not_found', 'There is no such work order.');
  const contact = await findContact(scope.tx, found.account.id, personId, scope.now);
  if (contact === null || furthestRight(contact) === null)
    return refuse(
      'invalid_input',
      'Choose who of the account said it: somebody who may approve for it.',
      'decided_by',
    );
  return ok(contact);
}

async function preview(
  scope: Scope,
  input: PreviewDecisionInput,
  answerer: Answerer & Pick<Contact, 'personId'>,
): Promise<Result<DecisionPreview>> {
  const found = await findWorkOrder(scope.tx, input.workOrderId);
  if (found === null) return refuse('not_found', 'There is no such work order.');
  const estimate = await openAnswerable(scope, found.workOrder, input);
  if (!estimate.ok) return estimate;
  const price = priceAnswers(estimate.value, input.answers);
  if (!price.ok) return price;
  const offered = priceAnswers(
    estimate.value,
    estimate.value.lines.map(({ lineId }) => ({ lineId, answer: 'approved', reason: '' })),
  );
  if (!offered.ok) return offered;
  const { workOrderId, id } = estimate.value.version;
  const before = await findApprovalBefore(scope.tx, workOrderId, id);
  const rows = await listShownLines(scope.tx, workOrderId);
  const { lines } = price.value.vehicle;
  const replaceable = replaceableLines(rows, (lineId) => !lines.some((line) => line.lineId === lineId));
  const right = answerRight(answerer, price.value.limitMinor);
  if (right === null) throw new Error('somebody looks at an answer that they may not give');
  const { limitMinor, delegated } = right;
  const withinLimit = limitMinor === null || price.value.limitMinor <= limitMinor;
  return ok({
    ...previewed(estimate.value, input.answers, price.value),
    offeredTripMinor: offered.value.visit.trip?.amountMinor ?? 0n,
    offeredTripTrail: offered.value.visit.trip?.trail ?? '',
    limitMinor,
    answersFor: delegated && { name: delegated.forName, through: delegated.through },
    withinLimit,
    passTo: withinLimit ? null : await whoMay(scope, found.account.id, price.value.limitMinor, answerer),
    expired: estimate.value.version.expiresOn < scope.today,
    increase: before && changeOfTotal(before.decision.totalMinor, price.value.invoice.totals.withTaxMinor),
    quoted: await loadQuotes(scope, workOrderId, replaceable),
  });
}

/** Who of the account an answer above somebody’s limit can be passed on to. */
async function whoMay(
  { tx, today }: Scope,
  accountId: AccountId,
  comparedMinor: bigint,
  besides: Pick<Contact, 'personId'>,
): Promise<DecisionPreview['passTo']> {
  const approvers = await listAskableApprovers(tx, accountId, today);
  const next = nextWhoMay(approvers, comparedMinor, besides.personId);
  return next && { personId: next.personId, name: next.name };
}

function previewed(
  { version, lines }: Answerable,
  answers: readonly LineAnswer[],
  price: EstimatePrice,
): Omit<
  DecisionPreview,
  | 'offeredTripMinor'
  | 'offeredTripTrail'
  | 'limitMinor'
  | 'answersFor'
  | 'withinLimit'
  | 'passTo'
  | 'expired'
  | 'increase'
  | 'quoted'
> {
  const { vehicle, visit, invoice } = price;
  return {
    workOrderId: version.workOrderId,
    versionId: version.id,
    version: version.version,
    digest: version.digest,
    currency: version.currency,
    lines: lines.map((line) => previewedLine(line, answers, price)),
    repairsMinor: vehicle.repairsMinor,
    minimumMinor: vehicle.minimum?.netMinor ?? 0n,
    minimumTrail: vehicle.minimum?.trail ?? '',
    afterHoursMinor: visit.afterHours?.amountMinor ?? 0n,
    afterHoursTrail: visit.afterHours?.trail ?? '',
    rushMinor: visit.rush?.amountMinor ?? 0n,
    rushTrail: visit.rush?.trail ?? '',
    visitMinimumMinor: visit.minimum?.amountMinor ?? 0n,
    visitMinimumTrail: visit.minimum?.trail ?? '',
    tripMinor: visit.trip?.amountMinor ?? 0n,
    tripTrail: visit.trip?.trail ?? '',
    taxMinor: invoice.totals.taxMinor,
    totalMinor: invoice.totals.withTaxMinor,
    offeredTotalMinor: version.totalMinor,
    comparedMinor: price.limitMinor,
  };
}

function previewedLine(
  line: ShownEstimateLine,
  answers: readonly LineAnswer[],
  price: EstimatePrice,
): PreviewedLine {
  const answer = answers.find((each) => each.lineId === line.lineId);
  const approved = price.vehicle.lines.find((each) => each.lineId === line.lineId);
  return {
    lineId: line.lineId,
    description: line.description,
    answer: approved === undefined ? 'declined' : 'approved',
    reason: answer?.reason.trim() ?? '',
    offeredMinor: line.netMinor,
    netMinor: approved?.netMinor ?? null,
    furtherPercent: approved?.furtherPercent ?? line.furtherPercent,
    trail: approved?.trail ?? line.trail,
  };
}
