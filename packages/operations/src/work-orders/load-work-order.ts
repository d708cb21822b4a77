import {
  earlierInvoicesWithRo,
  findDecision,
  findEstimate,
  findInvoiceOfWorkOrder,
  findPurchaseOrder,
  findWorkOrder,
  type JoinedWorkOrder,
  listAcceptances,
  listNumbersChased,
  listRecordings,
  listShownLines,
  listShownPhotos,
  listWarnedPhotos,
  listWorkOrderLines,
  listWorkOrderSteps,
  type StoredDecision,
  type StoredEstimate,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  allows,
  demandedNumbers,
  type EstimateSubject,
  type LineId,
  missingNumbers,
  ok,
  priceEstimate,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { loadAsking } from '../approvals/load-asking.ts';
import { loadMessages } from '../messages/message-view.ts';
import type { Scope } from '../perform.ts';
import { noticedWords } from '../photo-checks/noticed.ts';
import { acceptanceView } from './acceptance-view.ts';
import { comparedOf, readStanding } from './answer-by-rule.ts';
import { type FlooredLine, flooredLines } from './below-floor.ts';
import { decisionView } from './decision-view.ts';
import { depositAsked } from './deposit-asked.ts';
import { factsOfLines } from './line-facts.ts';
import { lineView } from './line-view.ts';
import { loadWorkStory } from './load-work-story.ts';
import { loadPricing, priceLines } from './price-lines.ts';
import { loadPriceNotes, noPriceNotes } from './price-notes.ts';
import { purchaseOrderView } from './purchase-order-view.ts';
import { loadQuotes, type QuotedView, replaceableLines } from './replacement-view.ts';
import { priceStored } from './stored-estimate.ts';
import { photoViews } from './taken-again.ts';
import { totalIncrease } from './total-increase.ts';
import { writtenOtherwise } from './vehicle-as-written.ts';
import { vehicleWords } from './vehicle-words.ts';
import { waitsForOf } from './waiting.ts';
import type { DecisionView, EstimateView, WorkOrderView } from './work-order-view.ts';
import type { WorkStoryView } from './work-story-view.ts';

/** The work order with everything its pages show; `not_found` when it is not there or not the actor's to see. */
export async function loadWorkOrder(scope: Scope, id: WorkOrderId): Promise<Result<WorkOrderView>> {
  const { tx, member } = scope;
  const found = await findWorkOrder(tx, id);
  if (found === null) return refuse('not_found', 'There is no such work order.');
  const { workOrder } = found;
  const staff = scope.actor.accountId === null;
  const [rows, sent, decision, photos, answers, invoice, steps, messages] = await Promise.all([
    staff ? listWorkOrderLines(tx, id) : listShownLines(tx, id),
    workOrder.currentVersionId === null ? null : findEstimate(tx, workOrder.currentVersionId),
    workOrder.decisionId === null ? null : findDecision(tx, workOrder.decisionId),
    listShownPhotos(tx, id),
    listAcceptances(tx, id),
    allows(member.role, 'see_invoices') ? findInvoiceOfWorkOrder(tx, id) : null,
    listWorkOrderSteps(tx, id),
    loadMessages(scope, id),
  ]);
  const acceptance = answers.at(-1);
  const warnedPhotos = staff ? await listWarnedPhotos(tx, id) : [];
  const price = sent === null ? await priceAsWrittenUp(scope, found, rows) : asSent(sent, subjectOf(found));
  return ok({
    ...head(found, acceptance?.outcome === 'not_accepted'),
    currency: sent?.version.currency ?? scope.business.currency,
    lines: factsOfLines(rows).map((facts) =>
      lineView(facts, {
        priced: price.estimate?.lines.find((line) => line.lineId === facts.lineId),
        unpriced: price.unpriced.get(facts.lineId),
        answer: decision?.lines.find((line) => line.lineId === facts.lineId),
      }),
    ),
    estimate: price.estimate,
    decision: decision && decisionOf(decision),
    ...(await consentOf(scope, found, { sent, decision, estimate: price.estimate })),
    deposit: await depositAsked(scope, found, price.estimate?.price ?? null),
    ...(await loadWorkStory(scope, found)),
    ...(await loadQuotes(scope, id, replaceableLines(rows, isDeclinedIn(decision)))),
    asking: await loadAsking(scope, found, {
      currency: sent?.version.currency ?? scope.business.currency,
      comparedMinor: sent && comparedOf(sent),
    }),
    photos: photoViews(
      photos,
      new Map(warnedPhotos.map((photo) => [photo.id, noticedWords(photo.warnings)])),
    ),
    warnedPhotos,
    recordings: await listRecordings(tx, id),
    acceptance: acceptance === undefined ? null : acceptanceView(acceptance),
    answers: answers.map(acceptanceView),
    invoice: invoice && { id: invoice.id, number: invoice.number },
    numbersAsked: 'limitMinor' in member ? [] : await listNumbersChased(tx, id),
    steps: steps.map((step) => ({ ...step })),
    messages,
    priceNotes: staff
      ? await loadPriceNotes(scope, found, { rows, sent, floored: price.floored })
      : noPriceNotes,
  });
}

function isDeclinedIn(decision: StoredDecision | null): (lineId: LineId) => boolean {
  const declined = decision?.lines.filter(({ answer }) => answer === 'declined') ?? [];
  return (lineId) => declined.some((line) => line.lineId === lineId);
}

function decisionOf(stored: StoredDecision): DecisionView {
  return decisionView(stored.decision, stored.lines, stored, stored.signature);
}

interface Asked {
  readonly sent: StoredEstimate | null;
  readonly decision: StoredDecision | null;
  readonly estimate: EstimateView | null;
}

/** What was agreed to before: by rule, by the last approval, by the numbers of the account. */
async function consentOf(
  scope: Scope,
  { workOrder }: JoinedWorkOrder,
  { sent, decision, estimate }: Asked,
): Promise<Pick<WorkOrderView, 'standing' | 'increase' | 'purchaseOrder' | 'earlierWithRo'>> {
  const { tx, member, today } = scope;
  const { id: workOrderId, accountId, roNumber, poNumber, state } = workOrder;
  const open = state === 'written_up' || state === 'awaiting_approval';
  const order =
    poNumber === '' || !allows(member.role, 'see_invoices')
      ? null
      : await findPurchaseOrder(tx, accountId, poNumber);
  return {
    standing:
      open && estimate !== null ? await readStanding(scope, workOrder, estimate.price.limitMinor) : null,
    increase:
      sent === null
        ? null
        : await totalIncrease(scope, workOrder, sent, decision?.decision.totalMinor ?? null),
    purchaseOrder: order && purchaseOrderView(order, today),
    earlierWithRo: await earlierInvoicesWithRo(tx, { accountId, roNumber, workOrderId }),
  };
}

/** What an estimate is priced for: this vehicle, as if it were the only one of its visit. */
export function subjectOf({ workOrder, visit, vehicle }: JoinedWorkOrder): EstimateSubject {
  return {
    workOrderId: workOrder.id,
    visitId: visit.id,
    dateOfWork: visit.day,
    label: workOrder.ownNumber === '' ? vehicleWords(vehicle) : workOrder.ownNumber,
  };
}

interface PriceShown {
  readonly estimate: EstimateView | null;
  readonly unpriced: ReadonlyMap<LineId, string>;
  /** Lines that have a floor as it is written up. */
  readonly floored: readonly FlooredLine[];
}

const nothingPriced: PriceShown = { estimate: null, unpriced: new Map(), floored: [] };

/** The price at the vehicle, before anything is sent. The price book is the staff's; contacts get none. */
async function priceAsWrittenUp(
  scope: Scope,
  found: JoinedWorkOrder,
  rows: readonly WorkOrderLineRow[],
): Promise<PriceShown> {
  if (!allows(scope.member.role, 'see_price_book')) return nothingPriced;
  const pricing = await loadPricing(scope, found.visit, found.workOrder.reworkOfId !== null);
  if (!pricing.ok) {
    const { detail } = pricing.problem;
    return { ...nothingPriced, unpriced: new Map(rows.map((row) => [row.id, detail])) };
  }
  const { priced, unpriced } = priceLines(rows, pricing.value);
  if (priced.length === 0) return { ...nothingPriced, unpriced };
  const price = priceEstimate(priced, pricing.value.rules, subjectOf(found));
  if (!price.ok) throw new Error(price.problem.detail);
  const notSent = { versionId: null, version: null, digest: null, madeAt: null, expiresOn: null };
  return {
    estimate: { ...notSent, lines: price.value.vehicle.lines, price: price.value },
    unpriced,
    floored: flooredLines(rows, priced, pricing.value),
  };
}

function asSent(sent: StoredEstimate, subject: EstimateSubject): PriceShown {
  const price = priceStored(sent, subject);
  const { id: versionId, version, digest, madeAt, expiresOn } = sent.version;
  return {
    estimate: { versionId, version, digest, madeAt, expiresOn, lines: price.vehicle.lines, price },
    unpriced: new Map(),
    floored: [],
  };
}

function head(
  found: JoinedWorkOrder,
  notAccepted: boolean,
): Omit<
  WorkOrderView,
  | 'currency'
  | 'lines'
  | 'estimate'
  | 'deposit'
  | 'decision'
  | 'standing'
  | 'increase'
  | 'purchaseOrder'
  | 'earlierWithRo'
  | 'asking'
  | 'photos'
  | 'warnedPhotos'
  | 'recordings'
  | 'acceptance'
  | 'answers'
  | 'invoice'
  | 'steps'
  | 'messages'
  | 'numbersAsked'
  | 'priceNotes'
  | keyof WorkStoryView
  | keyof QuotedView
> {
  const { workOrder, account, visit, site, vehicle } = found;
  return {
    id: workOrder.id,
    number: workOrder.number,
    state: workOrder.state,
    waitsFor: waitsForOf({ ...workOrder, account, notAccepted }),
    holdReason: workOrder.holdReason,
    account: { id: account.id, name: account.name, shortName: account.shortName },
    site,
    visit: visitView(visit),
    technician: { id: visit.technicianId, name: found.technicianName },
    vehicle: {
      id: vehicle.id,
      vin: vehicle.vin,
      lastEight: vehicle.lastEight,
      description: vehicleWords(vehicle, workOrder.ownNumber),
      writtenAs: writtenOtherwise(workOrder.vehicleAsWritten, vehicle),
    },
    numbers: {
      ownKind: account.ownNumberKind,
      own: workOrder.ownNumber,
      ro: workOrder.roNumber,
      po: workOrder.poNumber,
    },
    missingNumbers: missingNumbers(demandedNumbers(account, workOrder)),
    owner: { name: workOrder.ownerName, phone: workOrder.ownerPhone },
    odometerMiles: workOrder.odometerMiles,
  };
}

function visitView({ id, day, afterHours, rush, walkIn }: JoinedWorkOrder['visit']): WorkOrderView['visit'] {
  return { id, day, afterHours, rush, walkIn };
}
