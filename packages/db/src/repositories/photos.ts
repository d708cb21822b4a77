import type { PhotoId, WorkOrderId } from '@grainwright/domain';
import { and, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { shownCopies } from '../schema/coverings.ts';
import { photoDerivatives, photos } from '../schema/evidence.ts';
import { workOrderLines } from '../schema/work-orders.ts';

export type PhotoRow = typeof photos.$inferSelect;
export type DerivativeRow = typeof photoDerivatives.$inferSelect;

/** Not of a line that was withdrawn: what it shows was a mistake, and nobody is shown it as the vehicle's damage. */
export const ofNoWithdrawnLine = sql`not exists (select 1 from ${workOrderLines} as withdrawn
  where withdrawn.tenant_id = "photos"."tenant_id" and withdrawn.id = "photos"."line_id"
    and withdrawn.withdrawn_at is not null)`;

/** Inserts unless the id is taken; answers whether it did. */
export async function insertPhoto(
  tx: TenantTransaction,
  photo: Omit<PhotoRow, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(photos)
    .values({ tenantId: tx.tenantId, ...photo })
    .onConflictDoNothing()
    .returning({ id: photos.id });
  return inserted.length === 1;
}

/** The whole row, as staff and the worker see it. */
export async function findPhoto(tx: TenantTransaction, id: PhotoId): Promise<PhotoRow | null> {
  const [row] = await tx
    .select()
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.id, id)));
  return row ?? null;
}

/** The digest of the original; null where the actor's role may not see this photo at all. */
export async function findPhotoDigest(tx: TenantTransaction, id: PhotoId): Promise<string | null> {
  const [row] = await tx
    .select({ sha256: photos.sha256 })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.id, id)));
  return row?.sha256 ?? null;
}

/** Which work order a photo is of, as far as the actor's role may see it. */
export async function findWorkOrderOfPhoto(tx: TenantTransaction, id: PhotoId): Promise<WorkOrderId | null> {
  const [row] = await tx
    .select({ workOrderId: photos.workOrderId })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.id, id)));
  return row?.workOrderId ?? null;
}

export async function findDerivative(
  tx: TenantTransaction,
  photoId: PhotoId,
  kind: DerivativeRow['kind'],
): Promise<DerivativeRow | null> {
  const [row] = await tx
    .select()
    .from(photoDerivatives)
    .where(
      and(
        eq(photoDerivatives.tenantId, tx.tenantId),
        eq(photoDerivatives.photoId, photoId),
        eq(photoDerivatives.kind, kind),
      ),
    );
  return row ?? null;
}

export type ShownCopyRow = typeof shownCopies.$inferSelect;

/** The copy that is shown to others than the staff: the covered one where a covering stands. */
export async function findShownCopy(
  tx: TenantTransaction,
  photoId: PhotoId,
  kind: ShownCopyRow['kind'],
): Promise<ShownCopyRow | null> {
  const [row] = await tx
    .select()
    .from(shownCopies)
    .where(
      and(
        eq(shownCopies.tenantId, tx.tenantId),
        eq(shownCopies.photoId, photoId),
        eq(shownCopies.kind, kind),
      ),
    );
  return row ?? null;
}

/** Inserts what is not there yet: made twice, the first stays. */
export async function insertDerivatives(
  tx: TenantTransaction,
  rows: readonly Omit<DerivativeRow, 'tenantId'>[],
): Promise<void> {
  await tx
    .insert(photoDerivatives)
    .values(rows.map((row) => ({ tenantId: tx.tenantId, ...row })))
    .onConflictDoNothing();
}
