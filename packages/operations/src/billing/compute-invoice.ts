import {
  type BillableWorkOrder,
  findLastAcceptedAt,
  findPurchaseOrder,
  listAcceptancesOf,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type AcceptanceId,
  brokenIdentities,
  buildInvoice,
  type Day,
  dayAt,
  dayWords,
  demandedNumbers,
  type Invoice,
  type InvoiceBasis,
  ok,
  purchaseOrderCounts,
  type Result,
  readyToInvoice,
  refuse,
  type WorkOrderId,
  withinPurchaseOrder,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type BillableWork, loadBillableWork, rulesOf, workOrdersOf } from './billable-work.ts';
import { invoiceBasisOf } from './invoice-basis.ts';

/** An invoice with everything it is made from, before it has a number. */
export interface ComputedInvoice {
  readonly work: BillableWork;
  readonly basis: InvoiceBasis;
  readonly invoice: Invoice;
  readonly acceptances: ReadonlyMap<WorkOrderId, AcceptanceId>;
}

/**
 * The invoice of these work orders at the prices frozen when they were approved. Refuses with `number_missing`,
 * `wrong_state`, `over_purchase_order`, `dates_out_of_order` or `nothing_approved`.
 */
export async function computeInvoice(
  scope: Scope,
  chosen: readonly WorkOrderRow[],
): Promise<Result<ComputedInvoice>> {
  const work = await loadBillableWork(scope, chosen);
  const billed = await invoiceBasisOf(scope, work);
  if (!billed.ok) return billed;
  const basis = billed.value;
  const invoice = buildInvoice(basis);
  const ready = await readyToIssue(scope, work, invoice);
  if (!ready.ok) return ready;
  const broken = brokenIdentities(invoice, basis.taxRounding);
  if (broken.length > 0) throw new Error(`the invoice does not add up: ${broken.join('; ')}`);
  const ids = workOrdersOf(work).map(({ id }) => id);
  const signed = ids.length === 0 ? [] : await listAcceptancesOf(scope.tx, ids);
  const acceptances = new Map(signed.map((each) => [each.workOrderId, each.id]));
  return ok({ work, basis, invoice, acceptances });
}

async function readyToIssue(scope: Scope, work: BillableWork, invoice: Invoice): Promise<Result<true>> {
  for (const workOrder of workOrdersOf(work)) {
    const ready = readyToInvoice({
      reworkWithoutCharge: rulesOf(workOrder).vehicle.rework,
      ...demandedNumbers(work.account, workOrder),
    });
    if (!ready.ok) return ready;
  }
  if (invoice.totals.withTaxMinor <= 0n)
    return refuse('nothing_approved', 'There is nothing to charge on this invoice.');
  return withinPurchaseOrders(scope, work, invoice);
}

/** Every purchase order on the invoice counts on the dates of its work and takes its share of the total. */
async function withinPurchaseOrders(
  { tx, business }: Scope,
  work: BillableWork,
  invoice: Invoice,
): Promise<Result<true>> {
  const numbers = new Set(workOrdersOf(work).map((workOrder) => workOrder.poNumber));
  for (const number of [...numbers].filter((each) => each !== '').toSorted()) {
    const order = await findPurchaseOrder(tx, work.account.id, number);
    if (order === null) continue;
    const counts = purchaseOrderCounts(order, datesOn(work, number));
    if (!counts.ok) return counts;
    if (order.capMinor === null) continue;
    const { capMinor, invoicedMinor } = order;
    const within = withinPurchaseOrder(
      { number, capMinor, invoicedMinor, currency: business.currency },
      shareOf(invoice, workOrdersOf(work), number),
    );
    if (!within.ok) return within;
  }
  return ok(true);
}

function datesOn({ visits }: BillableWork, number: string): readonly Day[] {
  return visits
    .filter(({ workOrders }) => workOrders.some((each) => each.poNumber === number))
    .map(({ visit }) => visit.day);
}

/** What of the total a purchase order carries: all of it, or by repairs where others carry the rest, rounded up. */
function shareOf(invoice: Invoice, workOrders: readonly BillableWorkOrder[], number: string): bigint {
  const carried = new Set(workOrders.filter((each) => each.poNumber === number).map((each) => each.id));
  const vehicles = invoice.visits.flatMap((visit) => visit.vehicles);
  const sumOf = (of: typeof vehicles) => of.reduce((sum, vehicle) => sum + vehicle.subtotalMinor, 0n);
  const wholeMinor = sumOf(vehicles);
  const ownMinor = sumOf(vehicles.filter((vehicle) => carried.has(vehicle.workOrderId)));
  if (wholeMinor === 0n || ownMinor === wholeMinor) return invoice.totals.withTaxMinor;
  return (invoice.totals.withTaxMinor * ownMinor + wholeMinor - 1n) / wholeMinor;
}

/**
 * The day an invoice bears: today unless said otherwise, not to come, and not before the work was done and accepted.
 * Refuses with `invalid_date`.
 */
export async function dayOfIssue(
  { tx, today, business }: Scope,
  work: BillableWork,
  asked: Day | null,
): Promise<Result<Day>> {
  const day = asked ?? today;
  if (day > today)
    return refuse('invalid_date', 'An invoice can’t bear a day that is still to come.', 'issued_on');
  const lastWorked = work.visits.at(-1)?.visit.day ?? day;
  const ids = workOrdersOf(work).map(({ id }) => id);
  const acceptedAt = ids.length === 0 ? null : await findLastAcceptedAt(tx, ids);
  const accepted = acceptedAt === null ? lastWorked : dayAt(acceptedAt, business.timeZone);
  const earliest = [accepted, lastWorked].toSorted().at(-1) ?? lastWorked;
  if (day >= earliest) return ok(day);
  return refuse(
    'invalid_date',
    `The work was done and accepted by ${dayWords(earliest)}. Choose that day or a later one.`,
    'issued_on',
  );
}
