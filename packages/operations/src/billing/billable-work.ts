import {
  type AccountRow,
  type ApprovedLine,
  type BillableWorkOrder,
  findAccount,
  listApprovedLines,
  listBillable,
  listMissedVehicles,
  listVisitsWithPlace,
  type MissedVehicle,
  type VisitWithPlace,
  type WorkOrderRow,
} from '@grainwright/db';
import type { EstimateRules } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { storedRules } from '../stored-prices.ts';

/** What is to be billed of a visit: repaired vehicles with what was decided on each, and vehicles that were not there. */
export interface BillableVisit {
  readonly visit: VisitWithPlace;
  readonly workOrders: readonly BillableWorkOrder[];
  readonly missed: readonly MissedVehicle[];
}

/** What an invoice is to hold, all of one account. */
export interface BillableWork {
  readonly account: AccountRow;
  /** In the order of their days. */
  readonly visits: readonly BillableVisit[];
  readonly lines: readonly ApprovedLine[];
}

/** Reads what is to be billed of these work orders, which are accepted, or void with a fee. */
export async function loadBillableWork(
  { tx }: Scope,
  chosen: readonly WorkOrderRow[],
): Promise<BillableWork> {
  const [first] = chosen;
  const account = first === undefined ? null : await findAccount(tx, first.accountId);
  if (account === null) throw new Error('a work order without its account');
  const worked = chosen.filter((workOrder) => workOrder.state !== 'void').map((workOrder) => workOrder.id);
  const workOrders = worked.length === 0 ? [] : await listBillable(tx, worked);
  if (workOrders.length !== worked.length) throw new Error('an accepted work order has no decision');
  const missed = await listMissedVehicles(
    tx,
    chosen.filter((workOrder) => workOrder.state === 'void').map((workOrder) => workOrder.id),
  );
  const visits = await listVisitsWithPlace(tx, [...new Set(chosen.map((workOrder) => workOrder.visitId))]);
  return {
    account,
    visits: visits.map((visit) => ({
      visit,
      workOrders: workOrders.filter((each) => each.visitId === visit.id),
      missed: missed.filter((each) => each.visitId === visit.id),
    })),
    lines: worked.length === 0 ? [] : await listApprovedLines(tx, worked),
  };
}

export function workOrdersOf({ visits }: BillableWork): readonly BillableWorkOrder[] {
  return visits.flatMap((each) => each.workOrders);
}

/** The rules that priced the estimate a work order stands on. */
export function rulesOf(workOrder: BillableWorkOrder): EstimateRules {
  return storedRules(workOrder.rules);
}
