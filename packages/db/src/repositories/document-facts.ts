import type { Instant, InvoiceId, PhotoId } from '@grainwright/domain';
import { and, eq, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoiceTaxBases } from '../schema/billing.ts';
import { shownCopies } from '../schema/coverings.ts';
import { photos } from '../schema/evidence.ts';

/** Where a picture's copy for looking closely is kept, and when it was taken. */
export interface PictureSource {
  readonly photoId: PhotoId;
  readonly storageKey: string;
  /** By the camera's clock, as it wrote it; null where it did not say. */
  readonly takenAtLocal: string | null;
  readonly receivedAt: Instant;
}

/** The copies of these photos that accounts see; one that is not made yet is left out. */
export async function listPictureSources(
  tx: TenantTransaction,
  ids: readonly PhotoId[],
): Promise<readonly PictureSource[]> {
  if (ids.length === 0) return [];
  return tx
    .select({
      photoId: photos.id,
      storageKey: shownCopies.storageKey,
      takenAtLocal: photos.takenAtLocal,
      receivedAt: photos.receivedAt,
    })
    .from(photos)
    .innerJoin(
      shownCopies,
      and(eq(shownCopies.tenantId, photos.tenantId), eq(shownCopies.photoId, photos.id)),
    )
    .where(and(eq(photos.tenantId, tx.tenantId), inArray(photos.id, [...ids]), eq(shownCopies.kind, 'view')));
}

/** What of an invoice is exempt by certificates, over all places. */
export async function sumExempt(tx: TenantTransaction, invoiceId: InvoiceId): Promise<bigint> {
  const [row] = await tx
    .select({ exempt: sql<string>`coalesce(sum(${invoiceTaxBases.exemptMinor}), 0)` })
    .from(invoiceTaxBases)
    .where(and(eq(invoiceTaxBases.tenantId, tx.tenantId), eq(invoiceTaxBases.invoiceId, invoiceId)));
  return BigInt(row?.exempt ?? 0);
}
