import type { AcceptanceId, Day, InvoiceId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, getTableColumns, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { businesses } from '../schema/accounts.ts';
import { invoices, invoiceWorkOrders } from '../schema/billing.ts';
import { shownCopies, standingCoverings } from '../schema/coverings.ts';
import { acceptances, photos } from '../schema/evidence.ts';
import { deletions } from '../schema/retention.ts';
import { listFeesCharged } from './billed-visits.ts';
import { deletionOf, shownDeletion } from './deletions.ts';
import { stillStands } from './voids.ts';

/** More photos of one work order than a page can show. */
const photosMax = 400;

/** In a query of one table drizzle leaves the table's name away, so both sides need a name of their own here. */
const copiesMade = sql<boolean>`(select count(*) = 2 from ${shownCopies} as made
  where made.tenant_id = "photos"."tenant_id" and made.photo_id = "photos"."id")`;
const coveredOn = sql<Day | null>`(select (covering.made_at at time zone b.time_zone)::date
  from ${standingCoverings} as covering join ${businesses} as b on b.tenant_id = covering.tenant_id
  where covering.tenant_id = "photos"."tenant_id" and covering.photo_id = "photos"."id")`;

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
      /** The photo that this one was taken instead of. */
      retakeOf: photos.retakeOf,
      /** The copies that are shown: covered ones where a covering stands. */
      ready: copiesMade,
      /** The business's own day since which parts of it are covered; null while none are. */
      coveredOn,
      /** What let its bytes go, and when; null while they are kept. */
      deletion: shownDeletion,
    })
    .from(photos)
    .leftJoin(deletions, deletionOf('photos', photos))
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.workOrderId, workOrderId)))
    .orderBy(asc(photos.receivedAt), asc(photos.id))
    .limit(photosMax);
}

export type AcceptanceRow = typeof acceptances.$inferSelect;

/** What accounts may read of an answer as well: not how to reach the signer, nor from where they answered. */
const {
  fromAddress: _from,
  device: _device,
  signerEmail: _email,
  signerPhone: _phone,
  ...shownOfAnswer
} = getTableColumns(acceptances);

export type ShownAcceptanceRow = Omit<
  AcceptanceRow,
  'fromAddress' | 'device' | 'signerEmail' | 'signerPhone'
>;

/** More than anybody ever answers to one work order. */
const answersMax = 100;

/** Every answer of the vehicle's owner or the account's representative, the first one first. */
export async function listAcceptances(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly ShownAcceptanceRow[]> {
  return tx
    .select(shownOfAnswer)
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.workOrderId, workOrderId)))
    .orderBy(asc(acceptances.acceptedAt), asc(acceptances.id))
    .limit(answersMax);
}

/** One of them; null where the transaction's role sees no such answer. */
export async function findShownAcceptance(
  tx: TenantTransaction,
  id: AcceptanceId,
): Promise<ShownAcceptanceRow | null> {
  const [row] = await tx
    .select(shownOfAnswer)
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.id, id)));
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
