import type { Instant, LineId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, getTableColumns, isNull, max, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { photos } from '../schema/evidence.ts';
import { workOrderLines } from '../schema/work-orders.ts';

export type WorkOrderLineRow = typeof workOrderLines.$inferSelect;

/** In the order written, without those withdrawn. A work order has a few; the operation that adds them keeps it so. */
export async function listWorkOrderLines(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly WorkOrderLineRow[]> {
  return tx
    .select()
    .from(workOrderLines)
    .where(ofWorkOrder(tx, workOrderId))
    .orderBy(asc(workOrderLines.position));
}

const {
  byHandMinor: _minor,
  byHandReason: _reason,
  byHandMaterialsPercent: _percent,
  byHandBy: _by,
  ...shownColumns
} = getTableColumns(workOrderLines);

/** As `listWorkOrderLines`, as an account may read them: no line says that it is priced by hand. */
export async function listShownLines(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly WorkOrderLineRow[]> {
  const rows = await tx
    .select(shownColumns)
    .from(workOrderLines)
    .where(ofWorkOrder(tx, workOrderId))
    .orderBy(asc(workOrderLines.position));
  return rows.map((row) => ({
    ...row,
    byHandMinor: null,
    byHandReason: null,
    byHandMaterialsPercent: null,
    byHandBy: null,
  }));
}

function ofWorkOrder(tx: TenantTransaction, workOrderId: WorkOrderId) {
  return and(
    eq(workOrderLines.tenantId, tx.tenantId),
    eq(workOrderLines.workOrderId, workOrderId),
    isNull(workOrderLines.withdrawnAt),
  );
}

/** The position of the last line written, withdrawn or not; 0 before the first. */
export async function lastLinePosition(tx: TenantTransaction, workOrderId: WorkOrderId): Promise<number> {
  const [row] = await tx
    .select({ last: max(workOrderLines.position) })
    .from(workOrderLines)
    .where(and(eq(workOrderLines.tenantId, tx.tenantId), eq(workOrderLines.workOrderId, workOrderId)));
  return row?.last ?? 0;
}

/** False when the id is taken, by whatever line. */
export async function insertWorkOrderLine(
  tx: TenantTransaction,
  line: Omit<WorkOrderLineRow, 'tenantId' | 'withdrawnAt'>,
): Promise<boolean> {
  const rows = await tx
    .insert(workOrderLines)
    .values({ tenantId: tx.tenantId, ...line })
    .onConflictDoNothing({ target: [workOrderLines.tenantId, workOrderLines.id] })
    .returning({ id: workOrderLines.id });
  return rows.length === 1;
}

/** What was written up anew; how it was worked stays. False when the work order has no such line. */
export async function updateWorkOrderLine(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
  id: LineId,
  change: Omit<WorkOrderLineRow, 'tenantId' | 'id' | 'workOrderId' | 'position' | 'layers' | 'withdrawnAt'>,
): Promise<boolean> {
  const rows = await tx
    .update(workOrderLines)
    .set(change)
    .where(ownLine(tx, workOrderId, id))
    .returning({ id: workOrderLines.id });
  return rows.length === 1;
}

/** Takes a line away unless a photo shows it; false where one does, or there is no such line. */
export async function deleteWorkOrderLine(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
  id: LineId,
): Promise<boolean> {
  const rows = await tx
    .delete(workOrderLines)
    .where(
      and(
        ownLine(tx, workOrderId, id),
        sql`not exists (select 1 from ${photos} where ${photos.tenantId} = ${tx.tenantId}
          and ${photos.workOrderId} = ${workOrderId} and ${photos.lineId} = ${id})`,
      ),
    )
    .returning({ id: workOrderLines.id });
  return rows.length === 1;
}

/** Lets a line that photos show count no more. It stays, as the photos do. */
export async function withdrawWorkOrderLine(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
  id: LineId,
  withdrawnAt: Instant,
): Promise<void> {
  await tx
    .update(workOrderLines)
    .set({ withdrawnAt })
    .where(ownLine(tx, workOrderId, id));
}

function ownLine(tx: TenantTransaction, workOrderId: WorkOrderId, id: LineId) {
  return and(
    eq(workOrderLines.tenantId, tx.tenantId),
    eq(workOrderLines.workOrderId, workOrderId),
    eq(workOrderLines.id, id),
  );
}
