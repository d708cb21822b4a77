import { type ListedWorkOrder, listPhonesOf, listWorkOrderRowsOfVisits, type StopRow } from '@grainwright/db';
import type {
  AccountId,
  CertificateWarning,
  Day,
  NextTask,
  PersonId,
  SiteId,
  VisitId,
  WorkOrderId,
} from '@grainwright/domain';
import { leftToDo } from '@grainwright/domain';
import { certificateWarnings } from '../accounts/certificate-warnings.ts';
import type { Scope } from '../perform.ts';
import { nextTasks } from './next-tasks.ts';
import { rowView } from './row-view.ts';
import type { WorkOrderRowView } from './work-order-view.ts';

/** A stop of a technician’s day: where it is, whom to call, and what is left to do there. */
export interface StopView {
  readonly visitId: VisitId;
  readonly day: Day;
  /** Its place in the day, from 1. */
  readonly position: number;
  readonly technician: { readonly id: PersonId; readonly name: string };
  readonly account: { readonly id: AccountId; readonly name: string };
  readonly site: { readonly id: SiteId; readonly name: string; readonly address: string };
  readonly afterHours: boolean;
  readonly rush: boolean;
  /** Null where nobody’s number is known. */
  readonly phone: { readonly name: string; readonly phone: string } | null;
  /** What the account is to send; null while all is well. */
  readonly certificateWarning: CertificateWarning | null;
  /** How many finished vehicles the account’s representative can sign for at once; 0 where every owner signs. */
  readonly toSignAtOnce: number;
  /** In words: “2 to photograph, 1 waits for approval”; empty where nothing is. */
  readonly left: string;
  readonly workOrders: readonly StopWorkOrder[];
}

export interface StopWorkOrder extends WorkOrderRowView {
  /** What comes next on it. */
  readonly next: NextTask;
  readonly reworkOfSomething: boolean;
}

const workOrdersMax = 300;

/** Stops with their vehicles in the order written up. The caller bounds them. */
export async function loadStops(scope: Scope, stops: readonly StopRow[]): Promise<readonly StopView[]> {
  const { tx, today } = scope;
  const visitIds = stops.map(({ visit }) => visit.id);
  const accountIds = stops.map(({ account }) => account.id);
  const rows = await listWorkOrderRowsOfVisits(tx, visitIds, workOrdersMax);
  const tasks = await nextTasks(scope, rows);
  const phones = await listPhonesOf(tx, accountIds, today);
  const warnings = new Map<Day, ReadonlyMap<AccountId, CertificateWarning>>();
  for (const day of new Set(stops.map(({ visit }) => visit.day)))
    warnings.set(day, await certificateWarnings(scope, accountIds, day));
  return stops.map((stop) => {
    const here = rows.filter((row) => row.visit.id === stop.visit.id);
    const workOrders = here.map((row) => stopWorkOrder(row, tasks));
    return {
      ...stopHead(stop, here),
      phone: phones.get(stop.account.id) ?? null,
      certificateWarning: warnings.get(stop.visit.day)?.get(stop.account.id) ?? null,
      left: leftToDo(workOrders.map(({ next }) => next.kind)),
      workOrders,
    };
  });
}

/** Work orders of any stops, in their order. The caller bounds them. */
export async function loadStopWorkOrders(
  scope: Scope,
  rows: readonly ListedWorkOrder[],
): Promise<readonly StopWorkOrder[]> {
  const tasks = await nextTasks(scope, rows);
  return rows.map((row) => stopWorkOrder(row, tasks));
}

function stopWorkOrder(row: ListedWorkOrder, tasks: ReadonlyMap<WorkOrderId, NextTask>): StopWorkOrder {
  return {
    ...rowView(row),
    next: tasks.get(row.id) ?? { kind: 'nothing' },
    reworkOfSomething: row.reworkOfId !== null,
  };
}

function stopHead({ visit, account, site, technicianName }: StopRow, here: readonly ListedWorkOrder[]) {
  const ownersSign = account.acceptanceRule === 'vehicle_owner';
  return {
    visitId: visit.id,
    day: visit.day,
    position: visit.position,
    technician: { id: visit.technicianId, name: technicianName },
    account: { id: account.id, name: account.name },
    site,
    afterHours: visit.afterHours,
    rush: visit.rush,
    toSignAtOnce: ownersSign ? 0 : here.filter(({ state }) => state === 'done').length,
  };
}
