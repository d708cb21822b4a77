import type { InvoiceId, WorkOrderId } from '@grainwright/domain';
import { and, asc, desc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoices, invoiceWorkOrders } from '../schema/billing.ts';
import { acceptances, photoDerivatives, photos } from '../schema/evidence.ts';
import { listFeesCharged } from './billed-visits.ts';
import { stillStands } from './voids.ts';

/** More photos of one work order than a page can show. */
const photosMax = 400;

/** In a query of one table drizzle leaves the table's name away, so both sides need a name of their own here. */
const copiesMade = sql<boolean>`(select count(*) = 2 from ${photoDerivatives} as made
  where made.tenant_id = "photos"."tenant_id" and made.photo_id = "photos"."id")`;

export type ShownPhotoRow = Awaited<ReturnType<typeof listShownPhotos>>[number];

/** The photos of a work order, oldest first, without position or place of storage: what accounts may read as well. */
export async function listShownPhotos(tx: TenantTransaction, workOrderId: WorkOrderId) {
  return tx
    .select({
      id: photos.id,
      lineId: photos.lineId,
      purpose: photos.purpose,
      sha256: photos.sha256,
      width: photos.width,
      height: photos.height,
      takenAtLocal: photos.takenAtLocal,
      receivedAt: photos.receivedAt,
      ready: copiesMade,
    })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.workOrderId, workOrderId)))
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
}

export type AcceptanceRow = typeof acceptances.$inferSelect;

/** The newest answer of the vehicle's owner or the account's representative; null while there is none. */
export async function findNewestAcceptance(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<AcceptanceRow | null> {
  const [row] = await tx
    .select()
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.workOrderId, workOrderId)))
    .orderBy(desc(acceptances.acceptedAt), desc(acceptances.id))
    .limit(1);
  return row ?? null;
}

/** The invoice that holds the work order, or the fee for a vehicle that was not there; null while none does that stands. */
export async function findInvoiceOfWorkOrder(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<{
  readonly id: InvoiceId;
  readonly number: string;
} | null> {
  const [row] = await tx
    .select({ id: invoices.id, number: invoices.number })
    .from(invoiceWorkOrders)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceWorkOrders.tenantId), eq(invoices.id, invoiceWorkOrders.invoiceId)),
    )
    .where(
      and(
        eq(invoiceWorkOrders.tenantId, tx.tenantId),
        eq(invoiceWorkOrders.workOrderId, workOrderId),
        stillStands,
      ),
    );
  if (row !== undefined) return row;
  const [fee] = await listFeesCharged(tx, [workOrderId]);
  return fee === undefined ? null : { id: fee.invoiceId, number: fee.number };
}
