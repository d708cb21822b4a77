import type { AccountId, OpeningId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoices } from '../schema/billing.ts';
import { openingItems, openings } from '../schema/receipts.ts';

export type OpeningRow = Omit<typeof openings.$inferSelect, 'tenantId'>;
export type OpeningItemRow = Omit<typeof openingItems.$inferSelect, 'tenantId'>;

/** Writes what was brought along, whose documents are there already. False when the id is taken. */
export async function insertOpening(
  tx: TenantTransaction,
  opening: OpeningRow,
  items: readonly OpeningItemRow[],
): Promise<boolean> {
  const inserted = await tx
    .insert(openings)
    .values({ tenantId: tx.tenantId, ...opening })
    .onConflictDoNothing()
    .returning({ id: openings.id });
  if (inserted.length === 0) return false;
  if (items.length > 0)
    await tx.insert(openingItems).values(items.map((item) => ({ tenantId: tx.tenantId, ...item })));
  return true;
}

export async function findOpening(tx: TenantTransaction, id: OpeningId): Promise<OpeningRow | null> {
  const [row] = await tx
    .select()
    .from(openings)
    .where(and(eq(openings.tenantId, tx.tenantId), eq(openings.id, id)));
  return row ?? null;
}

/** What an account brought along, latest opening first. */
export async function listOpenings(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly OpeningRow[]> {
  return tx
    .select()
    .from(openings)
    .where(and(eq(openings.tenantId, tx.tenantId), eq(openings.accountId, accountId)))
    .orderBy(asc(openings.broughtOn), asc(openings.id))
    .limit(100);
}

export async function listOpeningDocuments(tx: TenantTransaction, openingId: OpeningId) {
  return tx
    .select({
      id: invoices.id,
      number: invoices.number,
      issuedOn: invoices.issuedOn,
      dueOn: invoices.dueOn,
      totalMinor: invoices.totalMinor,
    })
    .from(openingItems)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, openingItems.tenantId), eq(invoices.id, openingItems.invoiceId)),
    )
    .where(and(eq(openingItems.tenantId, tx.tenantId), eq(openingItems.openingId, openingId)))
    .orderBy(asc(invoices.sequence));
}
