import type { Day, ReworkReason, WorkOrderId, WorkOrderState } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { visits, workOrders } from '../schema/work-orders.ts';

/** A work order as another one names it. */
export interface NamedWorkOrder {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly state: WorkOrderState;
  readonly day: Day;
}

/** What came back of a work order, in the order written. */
export async function listReworksOf(
  tx: TenantTransaction,
  id: WorkOrderId,
): Promise<readonly (NamedWorkOrder & { readonly reason: ReworkReason | null })[]> {
  return tx
    .select({ ...named, reason: workOrders.reworkReason })
    .from(workOrders)
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.reworkOfId, id)))
    .orderBy(asc(workOrders.number))
    .limit(50);
}

export async function findNamedWorkOrder(
  tx: TenantTransaction,
  id: WorkOrderId,
): Promise<NamedWorkOrder | null> {
  const [row] = await tx
    .select(named)
    .from(workOrders)
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  return row ?? null;
}

const named = {
  id: workOrders.id,
  number: workOrders.number,
  state: workOrders.state,
  day: visits.day,
};
