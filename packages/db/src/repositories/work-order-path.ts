import type { Instant, PersonId, WorkOrderId, WorkOrderState } from '@grainwright/domain';
import { and, asc, eq, getTableColumns } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { workOrderSteps, workOrders } from '../schema/work-orders.ts';

const { technicianMinutes: _minutes, materialsCostMinor: _cost, ...shown } = getTableColumns(workOrders);

/** What contacts may read of a work order as well: all but what it cost the business. */
export const shownWorkOrder = shown;

export type WorkOrderRow = Omit<typeof workOrders.$inferSelect, 'technicianMinutes' | 'materialsCostMinor'>;

/**
 * The work order, locked until the transaction ends: whoever changes one reads it through here first, so that
 * two people at once come one after the other.
 */
export async function lockWorkOrder(tx: TenantTransaction, id: WorkOrderId): Promise<WorkOrderRow | null> {
  const [row] = await tx
    .select(shownWorkOrder)
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)))
    .for('update');
  return row ?? null;
}

export async function setWorkOrderState(
  tx: TenantTransaction,
  id: WorkOrderId,
  change: Partial<Pick<WorkOrderRow, 'decisionId' | 'currentVersionId'>> & Pick<WorkOrderRow, 'state'>,
): Promise<void> {
  await tx
    .update(workOrders)
    .set(change)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
}

export interface WorkOrderStep {
  readonly id: string;
  readonly workOrderId: WorkOrderId;
  readonly event: string;
  readonly toState: WorkOrderState;
  /** Null where the vehicle’s owner took it, by a link. */
  readonly personId: PersonId | null;
  readonly happenedAt: Instant;
  readonly note: string;
}

export async function insertWorkOrderStep(tx: TenantTransaction, step: WorkOrderStep): Promise<void> {
  await tx.insert(workOrderSteps).values({ tenantId: tx.tenantId, ...step });
}

/** Whether the step of this id was taken. */
export async function hasStep(tx: TenantTransaction, id: string): Promise<boolean> {
  const rows = await tx
    .select({ id: workOrderSteps.id })
    .from(workOrderSteps)
    .where(and(eq(workOrderSteps.tenantId, tx.tenantId), eq(workOrderSteps.id, id)));
  return rows.length > 0;
}

/** The path so far, oldest first, with the name of whoever took each step. */
export async function listWorkOrderSteps(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<
  readonly {
    event: string;
    toState: WorkOrderState;
    happenedAt: Instant;
    note: string;
    personName: string | null;
  }[]
> {
  return tx
    .select({
      event: workOrderSteps.event,
      toState: workOrderSteps.toState,
      happenedAt: workOrderSteps.happenedAt,
      note: workOrderSteps.note,
      personName: people.name,
    })
    .from(workOrderSteps)
    .leftJoin(
      people,
      and(eq(people.tenantId, workOrderSteps.tenantId), eq(people.id, workOrderSteps.personId)),
    )
    .where(and(eq(workOrderSteps.tenantId, tx.tenantId), eq(workOrderSteps.workOrderId, workOrderId)))
    .orderBy(asc(workOrderSteps.happenedAt), asc(workOrderSteps.id));
}
