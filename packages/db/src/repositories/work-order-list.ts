import type {
  AccountId,
  Day,
  PersonId,
  VisitId,
  WaitsFor,
  WorkOrderId,
  WorkOrderState,
} from '@grainwright/domain';
import { and, asc, desc, eq, gte, inArray, isNotNull, isNull, lt, not, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people, sites } from '../schema/accounts.ts';
import { acceptances } from '../schema/evidence.ts';
import { messages } from '../schema/messages.ts';
import { decisions, estimateVersions, vehicles, visits, workOrders } from '../schema/work-orders.ts';

export interface WorkOrderFilter {
  readonly state?: WorkOrderState | undefined;
  readonly waitsFor?: WaitsFor | undefined;
  readonly accountId?: AccountId | undefined;
  readonly technicianId?: PersonId | undefined;
  /** A work order's number, a VIN or its last eight, or part of one of the account's own numbers. */
  readonly text?: string | undefined;
  /** Only numbers below it: where the page before ended. */
  readonly below?: bigint | undefined;
}

export type ListedWorkOrder = Awaited<ReturnType<typeof listWorkOrderRows>>[number];

/** Work orders with what a row shows, newest number first. */
export async function listWorkOrderRows(tx: TenantTransaction, filter: WorkOrderFilter, rowsMax: number) {
  return selectRows(tx)
    .where(and(eq(workOrders.tenantId, tx.tenantId), ...conditions(filter)))
    .orderBy(desc(workOrders.number))
    .limit(rowsMax);
}

/** As `listWorkOrderRows`, of the ids given, in no order; the caller bounds them. */
export async function listWorkOrderRowsOf(tx: TenantTransaction, ids: readonly WorkOrderId[]) {
  if (ids.length === 0) return [];
  return selectRows(tx).where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, [...ids])));
}

/** The work orders of visits, in the order written up. */
export async function listWorkOrderRowsOfVisits(
  tx: TenantTransaction,
  visitIds: readonly VisitId[],
  rowsMax: number,
) {
  if (visitIds.length === 0) return [];
  return selectRows(tx)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.visitId, [...visitIds])))
    .orderBy(asc(workOrders.number))
    .limit(rowsMax);
}

/** As `listWorkOrderRows`, those in the given states of a technician's days from `from` to before `before`, oldest first. */
export async function listWorkOrderRowsOfDays(
  tx: TenantTransaction,
  { technicianId, from, before, states }: DaysOfTechnician,
  rowsMax: number,
) {
  return selectRows(tx)
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(visits.technicianId, technicianId),
        gte(visits.day, from),
        lt(visits.day, before),
        inArray(workOrders.state, [...states]),
      ),
    )
    .orderBy(asc(visits.day), asc(workOrders.number))
    .limit(rowsMax);
}

export interface DaysOfTechnician {
  readonly technicianId: PersonId;
  readonly from: Day;
  readonly before: Day;
  readonly states: readonly WorkOrderState[];
}

/** The last message is the account's: a question that nobody of the business has answered. */
const questionOpen = sql<boolean>`coalesce((select ${messages.side} = 'account' from ${messages}
  where ${messages.tenantId} = ${workOrders.tenantId} and ${messages.workOrderId} = ${workOrders.id}
  order by ${messages.writtenAt} desc, ${messages.id} desc limit 1), false)`;

/** The newest answer about the done work is a no: for a query that reads `work_orders`. */
const notAccepted = sql<boolean>`(${workOrders.state} = 'done' and coalesce((select ${acceptances.outcome} = 'not_accepted' from ${acceptances}
  where ${acceptances.tenantId} = ${workOrders.tenantId} and ${acceptances.workOrderId} = ${workOrders.id}
  order by ${acceptances.acceptedAt} desc, ${acceptances.id} desc limit 1), false))`;

function selectRows(tx: TenantTransaction) {
  return tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      state: workOrders.state,
      holdReason: workOrders.holdReason,
      reworkOfId: workOrders.reworkOfId,
      ownNumber: workOrders.ownNumber,
      roNumber: workOrders.roNumber,
      poNumber: workOrders.poNumber,
      account: {
        id: accounts.id,
        name: accounts.name,
        ownNumberKind: accounts.ownNumberKind,
        ownNumberRequired: accounts.ownNumberRequired,
        requiresRo: accounts.requiresRo,
        requiresPo: accounts.requiresPo,
        acceptanceRule: accounts.acceptanceRule,
      },
      vehicle: vehicles,
      visit: visits,
      siteName: sites.name,
      siteAddress: sites.address,
      technicianName: people.name,
      decidedRepairsMinor: decisions.repairsMinor,
      estimatedRepairsMinor: estimateVersions.repairsMinor,
      questionOpen,
      notAccepted,
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(sites, and(eq(sites.tenantId, visits.tenantId), eq(sites.id, visits.siteId)))
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(people, and(eq(people.tenantId, visits.tenantId), eq(people.id, visits.technicianId)))
    .leftJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .leftJoin(
      estimateVersions,
      and(
        eq(estimateVersions.tenantId, workOrders.tenantId),
        eq(estimateVersions.id, workOrders.currentVersionId),
      ),
    );
}

function conditions(filter: WorkOrderFilter): readonly (SQL | undefined)[] {
  return [
    filter.state && eq(workOrders.state, filter.state),
    filter.waitsFor && waiting(filter.waitsFor),
    filter.accountId && eq(workOrders.accountId, filter.accountId),
    filter.technicianId && eq(visits.technicianId, filter.technicianId),
    filter.text === undefined || filter.text === '' ? undefined : matching(filter.text),
    filter.below === undefined ? undefined : lt(workOrders.number, filter.below),
  ];
}

/** An account demands a number and has not given it: for a query that reads `accounts` and `work_orders`. */
export const numberMissing = sql`((${accounts.requiresRo} and ${workOrders.roNumber} = '')
  or (${accounts.requiresPo} and ${workOrders.poNumber} = '')
  or (${accounts.ownNumberRequired} and ${accounts.ownNumberKind} is not null and ${workOrders.ownNumber} = ''))`;

/** The same rule as `waitsFor` in the domain, as a condition on rows. */
export function waiting(what: WaitsFor): SQL | undefined {
  const charged = isNull(workOrders.reworkOfId);
  switch (what) {
    case 'technician':
      return or(
        and(inArray(workOrders.state, ['written_up', 'approved']), isNull(workOrders.holdReason)),
        eq(workOrders.state, 'in_work'),
        and(eq(workOrders.state, 'done'), notAccepted),
      );
    case 'hold':
      return and(inArray(workOrders.state, ['written_up', 'approved']), isNotNull(workOrders.holdReason));
    case 'approval':
      return eq(workOrders.state, 'awaiting_approval');
    case 'acceptance':
      return and(eq(workOrders.state, 'done'), not(notAccepted));
    case 'po':
      return and(eq(workOrders.state, 'accepted'), charged, numberMissing);
    case 'invoice':
      return and(eq(workOrders.state, 'accepted'), charged, not(numberMissing));
    case 'money':
      return eq(workOrders.state, 'invoiced');
    case 'nobody':
      return or(
        inArray(workOrders.state, ['paid', 'declined', 'void', 'written_off']),
        and(eq(workOrders.state, 'accepted'), not(charged)),
      );
  }
}

/** Work orders by a number, a VIN or its last eight, for a query that reads `work_orders` and `vehicles`. */
export function matching(text: string): SQL | undefined {
  const number = /^(?:WO-)?(\d{1,15})$/i.exec(text)?.[1];
  const code = text.replace(/[\s-]/g, '').toUpperCase();
  const part = `%${text.replace(/[\\%_]/g, '\\$&')}%`;
  return or(
    number === undefined ? undefined : eq(workOrders.number, BigInt(number)),
    eq(vehicles.vin, code),
    eq(vehicles.lastEight, code),
    sql`${workOrders.ownNumber} ilike ${part}`,
    sql`${workOrders.roNumber} ilike ${part}`,
    sql`${workOrders.poNumber} ilike ${part}`,
  );
}
