import type { Instant, LineId, PhotoId, PhotoPurpose, PhotoWarning, WorkOrderId } from '@grainwright/domain';
import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { photos } from '../schema/evidence.ts';
import { photoChecks, photoOverrides } from '../schema/photo-checks.ts';
import { workOrders } from '../schema/work-orders.ts';
import { ofNoWithdrawnLine } from './photos.ts';

export type PhotoCheckRow = typeof photoChecks.$inferSelect;
export type PhotoOverrideRow = typeof photoOverrides.$inferSelect;

/** As many photos of a work order as are compared and listed. */
const photosMax = 400;
/** Photos of other work orders that may be the same picture. */
const elsewhereMax = 50;

export async function insertPhotoCheck(
  tx: TenantTransaction,
  check: Omit<PhotoCheckRow, 'tenantId'>,
): Promise<void> {
  await tx
    .insert(photoChecks)
    .values({ tenantId: tx.tenantId, ...check })
    .onConflictDoNothing();
}

export async function findPhotoCheck(tx: TenantTransaction, photoId: PhotoId): Promise<PhotoCheckRow | null> {
  const [row] = await tx
    .select()
    .from(photoChecks)
    .where(and(eq(photoChecks.tenantId, tx.tenantId), eq(photoChecks.photoId, photoId)));
  return row ?? null;
}

/** The photos that a new one may be the same picture as: those of its work order, and any with the same bytes or hash. */
export async function listPhotosToCompare(
  tx: TenantTransaction,
  of: { readonly workOrderId: WorkOrderId; readonly sha256: string; readonly hash: string },
) {
  const compared = {
    id: photos.id,
    workOrderId: photos.workOrderId,
    workOrderNumber: workOrders.number,
    purpose: photos.purpose,
    sha256: photos.sha256,
    hash: photoChecks.hash,
    print: photoChecks.print,
  };
  const ofPhoto = and(eq(photoChecks.tenantId, photos.tenantId), eq(photoChecks.photoId, photos.id));
  const ofWorkOrder = and(eq(workOrders.tenantId, photos.tenantId), eq(workOrders.id, photos.workOrderId));
  const rows = () =>
    tx.select(compared).from(photos).innerJoin(workOrders, ofWorkOrder).leftJoin(photoChecks, ofPhoto);
  const own = eq(photos.tenantId, tx.tenantId);
  const here = await rows()
    .where(and(own, eq(photos.workOrderId, of.workOrderId)))
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
  // Each by its own index.
  const sameBytes = await rows()
    .where(and(own, eq(photos.sha256, of.sha256)))
    .limit(elsewhereMax);
  const sameHash = await rows()
    .where(and(own, eq(photoChecks.tenantId, tx.tenantId), eq(photoChecks.hash, of.hash)))
    .limit(elsewhereMax);
  return [...here, ...[...sameBytes, ...sameHash].filter((each) => each.workOrderId !== of.workOrderId)];
}

/** Answers whether it was inserted; false where the id is taken. */
export async function insertPhotoOverride(
  tx: TenantTransaction,
  override: Omit<PhotoOverrideRow, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(photoOverrides)
    .values({ tenantId: tx.tenantId, ...override })
    .onConflictDoNothing()
    .returning({ id: photoOverrides.id });
  return inserted.length === 1;
}

export async function findPhotoOverride(
  tx: TenantTransaction,
  id: PhotoOverrideRow['id'],
): Promise<PhotoOverrideRow | null> {
  const [row] = await tx
    .select()
    .from(photoOverrides)
    .where(and(eq(photoOverrides.tenantId, tx.tenantId), eq(photoOverrides.id, id)));
  return row ?? null;
}

/** A photo that something was said about, with what became of it. */
export interface WarnedPhotoRow {
  readonly id: PhotoId;
  readonly lineId: LineId | null;
  readonly purpose: PhotoPurpose;
  readonly warnings: readonly PhotoWarning[];
  /** The photo that was taken instead. */
  readonly retakenBy: PhotoId | null;
  readonly override: { readonly reason: string; readonly madeBy: string; readonly madeAt: Instant } | null;
}

/** The photos of a work order that something was said about, oldest first; none of a line that was withdrawn. */
export async function listWarnedPhotos(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly WarnedPhotoRow[]> {
  const rows = await tx
    .select({
      id: photos.id,
      lineId: photos.lineId,
      purpose: photos.purpose,
      warnings: photoChecks.warnings,
      retakenBy: sql<PhotoId | null>`(select later.id from ${photos} as later
        where later.tenant_id = "photos"."tenant_id" and later.work_order_id = "photos"."work_order_id"
          and later.retake_of = "photos"."id"
        order by later.received_at, later.id limit 1)`,
    })
    .from(photos)
    .innerJoin(
      photoChecks,
      and(eq(photoChecks.tenantId, photos.tenantId), eq(photoChecks.photoId, photos.id)),
    )
    .where(
      and(
        eq(photos.tenantId, tx.tenantId),
        eq(photos.workOrderId, workOrderId),
        sql`jsonb_array_length(${photoChecks.warnings}) > 0`,
        ofNoWithdrawnLine,
      ),
    )
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
  const reasons = await listReasons(
    tx,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({ ...row, override: reasons.get(row.id) ?? null }));
}

/** The newest reason of each photo. */
async function listReasons(tx: TenantTransaction, photoIds: readonly PhotoId[]) {
  if (photoIds.length === 0) return new Map<PhotoId, NonNullable<WarnedPhotoRow['override']>>();
  const rows = await tx
    .selectDistinctOn([photoOverrides.photoId], {
      photoId: photoOverrides.photoId,
      reason: photoOverrides.reason,
      madeBy: people.name,
      madeAt: photoOverrides.madeAt,
    })
    .from(photoOverrides)
    .innerJoin(
      people,
      and(eq(people.tenantId, photoOverrides.tenantId), eq(people.id, photoOverrides.madeBy)),
    )
    .where(and(eq(photoOverrides.tenantId, tx.tenantId), inArray(photoOverrides.photoId, [...photoIds])))
    .orderBy(photoOverrides.photoId, desc(photoOverrides.madeAt), desc(photoOverrides.id));
  return new Map(rows.map(({ photoId, ...reason }) => [photoId, reason]));
}
