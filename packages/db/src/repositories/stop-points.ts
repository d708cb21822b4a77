import type { LineId, PhotoId, StopPointId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { stopPoints } from '../schema/evidence.ts';

export type StopPointRow = typeof stopPoints.$inferSelect;

/** False when the id is taken. */
export async function insertStopPoint(
  tx: TenantTransaction,
  row: Omit<StopPointRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(stopPoints)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: stopPoints.id });
  return rows.length === 1;
}

export async function findStopPoint(tx: TenantTransaction, id: StopPointId): Promise<StopPointRow | null> {
  const [row] = await tx
    .select()
    .from(stopPoints)
    .where(and(eq(stopPoints.tenantId, tx.tenantId), eq(stopPoints.id, id)));
  return row ?? null;
}

export interface ShownStopPoint {
  readonly id: StopPointId;
  readonly lineId: LineId;
  readonly photoId: PhotoId;
  readonly note: string;
  readonly shown: boolean;
}

/** Oldest first, in columns that the vehicle’s owner may read as well; others than the staff get those that are shown. */
export async function listStopPoints(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly ShownStopPoint[]> {
  return tx
    .select({
      id: stopPoints.id,
      lineId: stopPoints.lineId,
      photoId: stopPoints.photoId,
      note: stopPoints.note,
      shown: stopPoints.shown,
    })
    .from(stopPoints)
    .where(and(eq(stopPoints.tenantId, tx.tenantId), eq(stopPoints.workOrderId, workOrderId)))
    .orderBy(asc(stopPoints.madeAt), asc(stopPoints.id))
    .limit(200);
}
