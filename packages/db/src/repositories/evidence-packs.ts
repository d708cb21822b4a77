import type { Day, Instant, PhotoId, WorkOrderId } from '@grainwright/domain';
import { and, asc, count, eq, inArray, isNull, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoiceWorkOrders } from '../schema/billing.ts';
import { coveredCopies, standingCoverings } from '../schema/coverings.ts';
import { creditNoteLines, creditNotes } from '../schema/credit-notes.ts';
import { photos } from '../schema/evidence.ts';
import { photoChecks, photoOverrides } from '../schema/photo-checks.ts';
import { deletions } from '../schema/retention.ts';
import { sealDays, sealRequests } from '../schema/seals.ts';
import { type ShownDeletion, shownDeletion } from './deletions.ts';

const photosMax = 400;
const daysMax = 20_000;

/** How many records of a work order still wait for their seal: its own, and credit notes for it. The staff’s to know. */
export async function countUnsealed(tx: TenantTransaction, workOrderId: WorkOrderId): Promise<number> {
  const credits = creditsOf(tx, workOrderId);
  const [row] = await tx
    .select({ waiting: count() })
    .from(sealRequests)
    .where(
      and(
        eq(sealRequests.tenantId, tx.tenantId),
        isNull(sealRequests.sealNumber),
        or(
          eq(sealRequests.workOrderId, workOrderId),
          and(eq(sealRequests.kind, 'credit'), inArray(sealRequests.subjectId, credits)),
        ),
      ),
    );
  return row?.waiting ?? 0;
}

/** The credit notes that take something off a work order, or off its invoice as a whole: its tax, its trip. */
export async function listCreditsOfWorkOrder(tx: TenantTransaction, workOrderId: WorkOrderId) {
  const rows = await creditsOf(tx, workOrderId).limit(200);
  return rows.map(({ id }) => id);
}

function creditsOf(tx: TenantTransaction, workOrderId: WorkOrderId) {
  const line = sql`select from ${creditNoteLines} as line
    where line.tenant_id = "credit_notes"."tenant_id" and line.credit_note_id = "credit_notes"."id"`;
  const ofInvoice = sql`exists (select from ${invoiceWorkOrders} as billed
    where billed.tenant_id = "credit_notes"."tenant_id" and billed.invoice_id = "credit_notes"."invoice_id"
      and billed.work_order_id = ${workOrderId}::uuid)`;
  return tx
    .select({ id: creditNotes.id })
    .from(creditNotes)
    .where(
      and(
        eq(creditNotes.tenantId, tx.tenantId),
        ofInvoice,
        or(
          sql`exists (${line} and line.work_order_id = ${workOrderId}::uuid)`,
          sql`not exists (${line} and line.work_order_id is not null)`,
        ),
      ),
    );
}

export type OriginalRow = Awaited<ReturnType<typeof listOriginals>>[number];

/** The photos of a work order with where their originals are kept, in the order received: the staff’s alone. */
export async function listOriginals(tx: TenantTransaction, workOrderId: WorkOrderId) {
  return tx
    .select({
      id: photos.id,
      lineId: photos.lineId,
      purpose: photos.purpose,
      sha256: photos.sha256,
      bareSha256: photos.bareSha256,
      mediaType: photos.mediaType,
      storageKey: photos.storageKey,
      takenAtLocal: photos.takenAtLocal,
      receivedAt: photos.receivedAt,
      retakeOf: photos.retakeOf,
    })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.workOrderId, workOrderId)))
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
}

/** The photos of a work order that the transaction’s own role sees. */
export async function listSeenPhotoIds(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<ReadonlySet<PhotoId>> {
  const rows = await tx
    .select({ id: photos.id })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.workOrderId, workOrderId)));
  return new Set(rows.map(({ id }) => id));
}

/** A photo that has parts covered, and its copy in full size; null while that is being made. */
export interface CoveredOriginal {
  readonly photoId: PhotoId;
  readonly coveredAt: Instant;
  readonly sha256: string | null;
  readonly storageKey: string | null;
}

export function listCoveredOriginals(
  tx: TenantTransaction,
  ids: readonly PhotoId[],
): Promise<readonly CoveredOriginal[]> {
  return tx
    .select({
      photoId: standingCoverings.photoId,
      coveredAt: standingCoverings.madeAt,
      sha256: coveredCopies.sha256,
      storageKey: coveredCopies.storageKey,
    })
    .from(standingCoverings)
    .leftJoin(
      coveredCopies,
      and(
        eq(coveredCopies.tenantId, standingCoverings.tenantId),
        eq(coveredCopies.coveringId, standingCoverings.id),
        eq(coveredCopies.kind, 'full'),
      ),
    )
    .where(and(eq(standingCoverings.tenantId, tx.tenantId), inArray(standingCoverings.photoId, [...ids])));
}

export type PhotoRemark = Awaited<ReturnType<typeof listPhotoRemarks>>[number];

/** What was said about photos when they came in, and why they were kept in spite of it, the newest reason last. */
export async function listPhotoRemarks(tx: TenantTransaction, ids: readonly PhotoId[]) {
  return tx
    .select({
      photoId: photoChecks.photoId,
      warnings: photoChecks.warnings,
      reason: photoOverrides.reason,
    })
    .from(photoChecks)
    .leftJoin(
      photoOverrides,
      and(eq(photoOverrides.tenantId, photoChecks.tenantId), eq(photoOverrides.photoId, photoChecks.photoId)),
    )
    .where(and(eq(photoChecks.tenantId, tx.tenantId), inArray(photoChecks.photoId, [...ids])))
    .orderBy(asc(photoOverrides.madeAt), asc(photoOverrides.id));
}

/** Every closed day from the one that holds this seal on, the earliest first, without its leaves. */
export function listSealDaysFrom(tx: TenantTransaction, sealNumber: number) {
  return tx
    .select({
      day: sealDays.day,
      firstNumber: sealDays.firstNumber,
      size: sealDays.size,
      root: sealDays.root,
      text: sealDays.text,
      sha256: sealDays.sha256,
      signature: sealDays.signature,
    })
    .from(sealDays)
    .where(
      and(
        eq(sealDays.tenantId, tx.tenantId),
        sql`${sealDays.firstNumber} + ${sealDays.size} > ${sealNumber}`,
      ),
    )
    .orderBy(asc(sealDays.number))
    .limit(daysMax);
}

export type PackedDayRow = Awaited<ReturnType<typeof listSealDaysFrom>>[number];

/** The leaves of these days, by day: what proofs are made of. */
export async function listSealDayLeaves(
  tx: TenantTransaction,
  days: readonly Day[],
): Promise<ReadonlyMap<Day, readonly string[]>> {
  if (days.length === 0) return new Map();
  const rows = await tx
    .select({ day: sealDays.day, leaves: sealDays.leaves })
    .from(sealDays)
    .where(and(eq(sealDays.tenantId, tx.tenantId), inArray(sealDays.day, [...days])));
  return new Map(rows.map(({ day, leaves }) => [day, leaves]));
}

/** A photo or recording of a work order that a rule has let go of. */
export interface DeletedOfWorkOrder extends ShownDeletion {
  readonly kind: 'photos' | 'recordings';
  readonly subjectId: string;
}

export async function listDeletedOf(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly DeletedOfWorkOrder[]> {
  const rows = await tx
    .select({ kind: deletions.kind, subjectId: deletions.subjectId, ...shownDeletion })
    .from(deletions)
    .where(and(eq(deletions.tenantId, tx.tenantId), eq(deletions.workOrderId, workOrderId)))
    .limit(photosMax);
  return rows.flatMap(({ kind, ...row }) =>
    kind === 'photos' || kind === 'recordings' ? [{ ...row, kind }] : [],
  );
}
