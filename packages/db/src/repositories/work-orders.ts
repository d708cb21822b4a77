import type { WorkOrderId } from '@grainwright/domain';
import { and, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people, sites } from '../schema/accounts.ts';
import { vehicles, visits, workOrders } from '../schema/work-orders.ts';
import { shownWorkOrder, type WorkOrderRow } from './work-order-path.ts';

/** False when the id is taken. */
export async function insertWorkOrder(
  tx: TenantTransaction,
  workOrder: Omit<WorkOrderRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(workOrders)
    .values({ tenantId: tx.tenantId, ...workOrder })
    .onConflictDoNothing()
    .returning({ id: workOrders.id });
  return rows.length === 1;
}

/** What may be corrected on a write-up; its state is not among it. */
export type WriteUpChange = Partial<
  Pick<WorkOrderRow, 'ownNumber' | 'roNumber' | 'poNumber' | 'ownerName' | 'ownerPhone' | 'odometerMiles'>
>;

export async function updateWriteUp(
  tx: TenantTransaction,
  id: WorkOrderId,
  change: WriteUpChange,
): Promise<void> {
  if (Object.keys(change).length === 0) return;
  await tx
    .update(workOrders)
    .set(change)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
}

/** A work order with its account, place, visit, vehicle and technician; only columns that contacts may read as well. */
export type JoinedWorkOrder = NonNullable<Awaited<ReturnType<typeof findWorkOrder>>>;

export async function findWorkOrder(tx: TenantTransaction, id: WorkOrderId) {
  const [row] = await tx
    .select({
      workOrder: shownWorkOrder,
      account: {
        id: accounts.id,
        name: accounts.name,
        shortName: accounts.shortName,
        kind: accounts.kind,
        ownNumberKind: accounts.ownNumberKind,
        ownNumberRequired: accounts.ownNumberRequired,
        requiresRo: accounts.requiresRo,
        requiresPo: accounts.requiresPo,
        acceptanceRule: accounts.acceptanceRule,
      },
      visit: visits,
      site: { id: sites.id, name: sites.name },
      vehicle: vehicles,
      technicianName: people.name,
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
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  return row ?? null;
}
