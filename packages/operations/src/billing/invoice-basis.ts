import {
  type AccountRow,
  type ApprovedLine,
  type BillableWorkOrder,
  type BilledOfVisit,
  findAccount,
  findBilledOfVisit,
  findVisit,
  listApprovedLines,
  listBillable,
  loadAccountPricing,
  sumApprovedUnbilled,
  type VisitRow,
} from '@grainwright/db';
import {
  type AfterHoursCharge,
  type EstimateRules,
  formatMinor,
  type InvoiceBasis,
  type MinimumLine,
  priceVisit,
  sumMinor,
  taxSetupOn,
  type VehiclePrice,
  type VehicleToBill,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { fromStoredJson } from '../stored-json.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';

/** The vehicles of a visit that are to be billed, with what was decided on each. */
export interface BillableVisit {
  readonly visit: VisitRow;
  readonly account: AccountRow;
  readonly workOrders: readonly BillableWorkOrder[];
  readonly lines: readonly ApprovedLine[];
}

export async function loadBillableVisit(
  { tx }: Scope,
  visitId: VisitId,
  workOrderIds: readonly WorkOrderId[],
): Promise<BillableVisit> {
  const visit = await findVisit(tx, visitId);
  const account = visit === null ? null : await findAccount(tx, visit.accountId);
  if (visit === null || account === null) throw new Error('a work order without its visit or account');
  const workOrders = await listBillable(tx, workOrderIds);
  if (workOrders.length !== workOrderIds.length) throw new Error('an accepted work order has no decision');
  return { visit, account, workOrders, lines: await listApprovedLines(tx, workOrderIds) };
}

/**
 * Everything the invoice is computed from: the lines and minimums frozen in the decisions, what the visit adds
 * once, and how its place taxes on the date of work. Trip and after-hours belong to the visit. The trip is charged
 * once, on whichever invoice comes first, and waived by all repairs of the visit that are billed or approved;
 * of the after-hours, an invoice holds what earlier ones of the visit do not.
 */
export async function invoiceBasisOf(scope: Scope, billable: BillableVisit): Promise<InvoiceBasis> {
  const { tx, business } = scope;
  const { visit, account, workOrders } = billable;
  const rules = rulesOf(workOrders[0]);
  const pricing = await loadAccountPricing(tx, account.id);
  if (pricing === null) throw new Error('an account without its prices');
  const billed = await findBilledOfVisit(tx, visit.id);
  const vehicles = workOrders.map((workOrder) => vehicleToBill(workOrder, billable.lines));
  const prices = vehicles.map((vehicle) => vehicle.price);
  const approvedMinor = sumMinor(workOrders.map((workOrder) => workOrder.afterHoursMinor));
  const coming = {
    repairsMinor: await sumApprovedUnbilled(
      tx,
      visit.id,
      workOrders.map(({ id }) => id),
    ),
  };
  const price = (parts: readonly { readonly repairsMinor: bigint }[]) =>
    priceVisit(parts, rules.visit, rules.tier, rules.terms);
  const { afterHours } = price([...prices, billed]);
  return {
    visits: [
      {
        visitId: visit.id,
        dateOfWork: visit.day,
        taxSetup: taxSetupOn(pricing.taxSetups, rules.taxSetup.areaCode, visit.day) ?? rules.taxSetup,
        vehicles,
        afterHours: asApproved(notYetBilled(afterHours, billed), approvedMinor),
        trip: billed.tripCharged ? null : price([...prices, billed, coming]).trip,
        fees: [],
      },
    ],
    certificates: pricing.certificates,
    taxRounding: { components: business.taxComponents, basis: business.taxBasis },
    prepaidMinor: 0n,
  };
}

/** Whether the estimate that was decided on is one for mending own work again without charge. */
export function isRework(workOrder: BillableWorkOrder): boolean {
  return rulesOf(workOrder).vehicle.rework;
}

function rulesOf(workOrder: BillableWorkOrder | undefined): EstimateRules {
  if (workOrder === undefined) throw new Error('an invoice without work orders');
  return fromStoredJson<EstimateRules>(workOrder.rules);
}

function vehicleToBill(workOrder: BillableWorkOrder, approved: readonly ApprovedLine[]): VehicleToBill {
  const own = approved.filter((each) => each.workOrderId === workOrder.id);
  const lines = own.map((each) => each.line);
  const linesMinor = sumMinor(lines.map((line) => line.netMinor));
  const materialsMinor = sumMinor(lines.map((line) => line.materialsMinor));
  const repairsMinor = linesMinor + workOrder.minimumMinor;
  const price: VehiclePrice = {
    lines,
    minimum: minimumOf(workOrder, linesMinor),
    repairsMinor,
    laborMinor: repairsMinor - materialsMinor,
    materialsMinor,
  };
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

/** The visit's after-hours less what its earlier invoices charged. */
function notYetBilled(charge: AfterHoursCharge | null, billed: BilledOfVisit): AfterHoursCharge | null {
  if (charge === null || billed.afterHoursMinor === 0n) return charge;
  const amountMinor = charge.amountMinor - billed.afterHoursMinor;
  if (amountMinor <= 0n) return null;
  const trail = `${charge.trail}, less ${formatMinor(billed.afterHoursMinor)} billed before → ${formatMinor(amountMinor)}`;
  return { ...charge, amountMinor, trail };
}

/**
 * After hours is a share of the visit's repairs and was approved vehicle by vehicle; what was approved is the most
 * that is charged.
 */
function asApproved(charge: AfterHoursCharge | null, approvedMinor: bigint): AfterHoursCharge | null {
  if (charge === null || charge.amountMinor <= approvedMinor) return charge;
  if (approvedMinor === 0n) return null;
  const trail = `${charge.trail}, as approved → ${formatMinor(approvedMinor)}`;
  return { ...charge, amountMinor: approvedMinor, trail };
}
