import type { WorkOrderId } from '@grainwright/domain';
import { and, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { workOrders } from '../schema/work-orders.ts';
import type { WorkOrderRow } from './work-order-path.ts';

export async function setHold(
  tx: TenantTransaction,
  id: WorkOrderId,
  holdReason: string | null,
): Promise<void> {
  await tx
    .update(workOrders)
    .set({ holdReason })
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
}

export type VoidFacts = Pick<WorkOrderRow, 'voidReason' | 'voidNote' | 'duplicateOfId' | 'noShowFeeMinor'>;

/** Says why a work order is void, which it has to be already. */
export async function setVoidFacts(tx: TenantTransaction, id: WorkOrderId, facts: VoidFacts): Promise<void> {
  await tx
    .update(workOrders)
    .set(facts)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
}

/** What the work cost the business itself. Staff only. */
export interface WorkCosts {
  readonly technicianMinutes: number | null;
  readonly materialsCostMinor: bigint | null;
}

export async function findCosts(tx: TenantTransaction, id: WorkOrderId): Promise<WorkCosts | null> {
  const [row] = await tx
    .select({
      technicianMinutes: workOrders.technicianMinutes,
      materialsCostMinor: workOrders.materialsCostMinor,
    })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  return row ?? null;
}

export async function setCosts(tx: TenantTransaction, id: WorkOrderId, costs: WorkCosts): Promise<void> {
  await tx
    .update(workOrders)
    .set(costs)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
}

/** What was seen of the airbag lamp when the vehicle came or left. */
export async function setLamp(
  tx: TenantTransaction,
  id: WorkOrderId,
  seen: Partial<Pick<WorkOrderRow, 'airbagLampBefore' | 'airbagLampAfter'>>,
): Promise<void> {
  await tx
    .update(workOrders)
    .set(seen)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
}
