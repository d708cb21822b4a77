import {
  type ApprovedLine,
  type BillableWorkOrder,
  type BilledOfVisit,
  findTaxAreaCode,
  listApprovedUnbilled,
  listBilledOfVisits,
  loadAccountPricing,
  type MissedVehicle,
} from '@grainwright/db';
import {
  capOf,
  dayWords,
  type FeeToBill,
  formatMinor,
  type InvoiceBasis,
  type MinimumLine,
  ok,
  priceVisit,
  type Result,
  refuse,
  type Surcharge,
  sumMinor,
  type TaxSetup,
  taxSetupOn,
  type VehicleToBill,
  type VisitToBill,
  vehiclePrice,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { ownNumberWords, vehicleWords } from '../work-orders/vehicle-words.ts';
import { type BillableVisit, type BillableWork, rulesOf, workOrdersOf } from './billable-work.ts';

/**
 * Everything the invoice is computed from: the lines and minimums frozen in the decisions, what each visit adds
 * once, and how the account's place taxes on each date of work. Trip, minimum and surcharges belong to the visit. The
 * trip is charged once, on whichever invoice comes first, and waived by all repairs of the visit that are billed or
 * approved; what lifts the visit to its minimum likewise. Of after-hours and rush, an invoice holds what earlier ones
 * of the visit do not. Refuses with `wrong_state` where the place
 * has no sales tax set up for a date of work.
 */
export async function invoiceBasisOf(scope: Scope, work: BillableWork): Promise<Result<InvoiceBasis>> {
  const { tx, business } = scope;
  const pricing = await loadAccountPricing(tx, work.account.id);
  if (pricing === null) throw new Error('an account without its prices');
  const visitIds = work.visits.map(({ visit }) => visit.id);
  const facts: VisitFacts = {
    work,
    taxSetups: pricing.taxSetups,
    areaCode: await findTaxAreaCode(tx, work.account.taxAreaId),
    billed: await listBilledOfVisits(tx, visitIds),
    coming: await listApprovedUnbilled(
      tx,
      visitIds,
      workOrdersOf(work).map(({ id }) => id),
    ),
  };
  const visits: VisitToBill[] = [];
  for (const visit of work.visits) {
    const taxSetup = taxSetupOf(visit, facts);
    if (!taxSetup.ok) return taxSetup;
    visits.push(visitToBill(visit, taxSetup.value, facts));
  }
  return ok({
    visits,
    certificates: pricing.certificates,
    taxRounding: { components: business.taxComponents, basis: business.taxBasis },
    prepaidMinor: 0n,
  });
}

interface VisitFacts {
  readonly work: BillableWork;
  readonly taxSetups: readonly TaxSetup[];
  /** Of the account today; work that was decided on keeps the area of its estimate. */
  readonly areaCode: string;
  readonly billed: readonly BilledOfVisit[];
  readonly coming: Awaited<ReturnType<typeof listApprovedUnbilled>>;
}

function visitToBill(billable: BillableVisit, taxSetup: TaxSetup, facts: VisitFacts): VisitToBill {
  const { visit, workOrders, missed } = billable;
  const vehicles = workOrders.map((workOrder) => vehicleToBill(workOrder, facts.work.lines));
  return {
    visitId: visit.id,
    dateOfWork: visit.day,
    taxSetup,
    vehicles,
    ...visitCharges(billable, vehicles, facts),
    fees: missed.map((each) => feeToBill(each, facts.work)),
  };
}

function taxSetupOf(
  { visit, workOrders }: BillableVisit,
  { taxSetups, areaCode }: VisitFacts,
): Result<TaxSetup> {
  const [first] = workOrders;
  const rules = first === undefined ? null : rulesOf(first);
  const setup = taxSetupOn(taxSetups, rules?.taxSetup.areaCode ?? areaCode, visit.day) ?? rules?.taxSetup;
  if (setup !== undefined) return ok(setup);
  return refuse(
    'wrong_state',
    `Sales tax of area ${areaCode} is not set up for ${dayWords(visit.day)}. Add its rates in the price book, then issue the invoice.`,
  );
}

/** What the visit adds once. Where nothing was repaired that is nothing. */
function visitCharges(
  { visit, workOrders }: BillableVisit,
  vehicles: readonly VehicleToBill[],
  facts: VisitFacts,
): Pick<VisitToBill, 'afterHours' | 'rush' | 'minimum' | 'trip'> {
  const [first] = workOrders;
  if (first === undefined) return { afterHours: null, rush: null, minimum: null, trip: null };
  const rules = rulesOf(first);
  const billed = facts.billed.find((each) => each.visitId === visit.id) ?? nothingBilled;
  const coming = facts.coming.filter((each) => each.visitId === visit.id);
  const prices = vehicles.map((vehicle) => vehicle.price);
  const price = (parts: readonly { readonly repairsMinor: bigint }[]) =>
    priceVisit(parts, rules.visit, rules.tier, rules.terms);
  const soFar = price([...prices, billed]);
  const all = price([...prices, billed, ...coming]);
  const approved = (kind: 'afterHoursMinor' | 'rushMinor') => sumMinor(workOrders.map((each) => each[kind]));
  return {
    afterHours: asApproved(
      notYetBilled(soFar.afterHours, billed.afterHoursMinor),
      approved('afterHoursMinor'),
    ),
    rush: asApproved(notYetBilled(soFar.rush, billed.rushMinor), approved('rushMinor')),
    minimum: billed.minimumCharged ? null : all.minimum,
    trip: billed.tripCharged ? null : all.trip,
  };
}

const nothingBilled = {
  repairsMinor: 0n,
  afterHoursMinor: 0n,
  rushMinor: 0n,
  minimumCharged: false,
  tripCharged: false,
};

function feeToBill(missed: MissedVehicle, { account }: BillableWork): FeeToBill {
  const vehicle = [ownNumberWords(account.ownNumberKind, missed.ownNumber), vehicleWords(missed.vehicle)];
  const label = `Vehicle not there: ${vehicle.filter((part) => part !== '').join(', ')}`;
  return { workOrderId: missed.id, label, amountMinor: missed.feeMinor };
}

function vehicleToBill(workOrder: BillableWorkOrder, approved: readonly ApprovedLine[]): VehicleToBill {
  const own = approved.filter((each) => each.workOrderId === workOrder.id);
  const lines = own.map((each) => each.line);
  const linesMinor = sumMinor(lines.map((line) => line.netMinor));
  const capMinor = capOf(lines, rulesOf(workOrder).vehicle);
  const price = vehiclePrice(lines, minimumOf(workOrder, linesMinor), capMinor);
  const label = workOrder.ownNumber === '' ? vehicleWords(workOrder.vehicle) : workOrder.ownNumber;
  return { workOrderId: workOrder.id, label, price };
}

function minimumOf({ minimumMinor }: BillableWorkOrder, linesMinor: bigint): MinimumLine | null {
  if (minimumMinor === 0n) return null;
  const upTo = formatMinor(linesMinor + minimumMinor);
  return {
    code: 'MIN',
    netMinor: minimumMinor,
    trail: `vehicle minimum ${upTo}, repairs ${formatMinor(linesMinor)} → ${formatMinor(minimumMinor)}`,
  };
}

/** The visit's surcharge less what its earlier invoices charged of it. */
function notYetBilled(charge: Surcharge | null, billedMinor: bigint): Surcharge | null {
  if (charge === null || billedMinor === 0n) return charge;
  const amountMinor = charge.amountMinor - billedMinor;
  if (amountMinor <= 0n) return null;
  const trail = `${charge.trail}, less ${formatMinor(billedMinor)} billed before → ${formatMinor(amountMinor)}`;
  return { ...charge, amountMinor, trail };
}

/**
 * A surcharge is a share of the visit's repairs and was approved vehicle by vehicle; what was approved is the most
 * that is charged.
 */
function asApproved(charge: Surcharge | null, approvedMinor: bigint): Surcharge | null {
  if (charge === null || charge.amountMinor <= approvedMinor) return charge;
  if (approvedMinor === 0n) return null;
  const trail = `${charge.trail}, as approved → ${formatMinor(approvedMinor)}`;
  return { ...charge, amountMinor: approvedMinor, trail };
}
