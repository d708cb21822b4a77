import {
  findDecision,
  findEstimate,
  findInvoiceOfWorkOrder,
  findNewestAcceptance,
  findWorkOrder,
  type JoinedWorkOrder,
  listShownPhotos,
  listWorkOrderLines,
  listWorkOrderSteps,
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
import type { Scope } from '../perform.ts';
import { acceptanceView } from './acceptance-view.ts';
import { decisionView } from './decide-estimate.ts';
import { lineView } from './line-view.ts';
import { loadPricing, priceLines } from './price-lines.ts';
import { priceStored } from './stored-estimate.ts';
import { vehicleWords } from './vehicle-words.ts';
import { waitsForOf } from './waiting.ts';
import type { EstimateView, WorkOrderView } from './work-order-view.ts';

/** The work order with everything its pages show; `not_found` when it is not there or not the actor's to see. */
export async function loadWorkOrder(scope: Scope, id: WorkOrderId): Promise<Result<WorkOrderView>> {
  const { tx, member } = scope;
  const found = await findWorkOrder(tx, id);
  if (found === null) return refuse('not_found', 'There is no such work order.');
  const { workOrder } = found;
  const [rows, sent, decision, photos, acceptance, invoice, steps] = await Promise.all([
    listWorkOrderLines(tx, id),
    workOrder.currentVersionId === null ? null : findEstimate(tx, workOrder.currentVersionId),
    workOrder.decisionId === null ? null : findDecision(tx, workOrder.decisionId),
    listShownPhotos(tx, id),
    findNewestAcceptance(tx, id),
    allows(member.role, 'see_invoices') ? findInvoiceOfWorkOrder(tx, id) : null,
    listWorkOrderSteps(tx, id),
  ]);
  const price = sent === null ? await priceAsWrittenUp(scope, found, rows) : asSent(sent, subjectOf(found));
  return ok({
    ...head(found),
    currency: sent?.version.currency ?? scope.business.currency,
    lines: rows.map((row) =>
      lineView(row, {
        priced: price.estimate?.lines.find((line) => line.lineId === row.id),
        unpriced: price.unpriced.get(row.id),
        answer: decision?.lines.find((line) => line.lineId === row.id),
      }),
    ),
    estimate: price.estimate,
    decision: decision && decisionView(decision.decision, decision.lines, decision.decidedByName),
    photos,
    acceptance: acceptance && acceptanceView(acceptance),
    invoice: invoice && { id: invoice.id, number: invoice.number },
    steps: steps.map((step) => ({ ...step })),
  });
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
}

const nothingPriced: PriceShown = { estimate: null, unpriced: new Map() };

/** The price at the vehicle, before anything is sent. The price book is the staff's; contacts get none. */
async function priceAsWrittenUp(
  scope: Scope,
  found: JoinedWorkOrder,
  rows: readonly WorkOrderLineRow[],
): Promise<PriceShown> {
  if (!allows(scope.member.role, 'see_price_book')) return nothingPriced;
  const pricing = await loadPricing(scope, found.visit);
  if (!pricing.ok) {
    const { detail } = pricing.problem;
    return { estimate: null, unpriced: new Map(rows.map((row) => [row.id, detail])) };
  }
  const { priced, unpriced } = priceLines(rows, pricing.value);
  if (priced.length === 0) return { estimate: null, unpriced };
  const price = priceEstimate(priced, pricing.value.rules, subjectOf(found));
  if (!price.ok) throw new Error(price.problem.detail);
  const notSent = { versionId: null, version: null, digest: null, madeAt: null, expiresOn: null };
  return {
    estimate: { ...notSent, lines: price.value.vehicle.lines, price: price.value },
    unpriced,
  };
}

function asSent(sent: StoredEstimate, subject: EstimateSubject): PriceShown {
  const price = priceStored(sent, subject);
  const { id: versionId, version, digest, madeAt, expiresOn } = sent.version;
  return {
    estimate: { versionId, version, digest, madeAt, expiresOn, lines: price.vehicle.lines, price },
    unpriced: new Map(),
  };
}

function head(
  found: JoinedWorkOrder,
): Omit<
  WorkOrderView,
  'currency' | 'lines' | 'estimate' | 'decision' | 'photos' | 'acceptance' | 'invoice' | 'steps'
> {
  const { workOrder, account, visit, site, vehicle } = found;
  return {
    id: workOrder.id,
    number: workOrder.number,
    state: workOrder.state,
    waitsFor: waitsForOf({ ...workOrder, account }),
    holdReason: workOrder.holdReason,
    account: { id: account.id, name: account.name, shortName: account.shortName },
    site,
    visit: { id: visit.id, day: visit.day, afterHours: visit.afterHours, walkIn: visit.walkIn },
    technician: { id: visit.technicianId, name: found.technicianName },
    vehicle: {
      id: vehicle.id,
      vin: vehicle.vin,
      lastEight: vehicle.lastEight,
      description: vehicleWords(vehicle),
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
    replacement:
      workOrder.replacementMinor === null
        ? null
        : { minor: workOrder.replacementMinor, note: workOrder.replacementNote },
  };
}
