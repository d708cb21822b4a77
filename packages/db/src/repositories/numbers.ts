import { and, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { documentNumbers } from '../schema/work-orders.ts';

export type NumberKind = (typeof documentNumbers.$inferSelect)['kind'];

/** Starts a tenant's numbering of this kind at `first`. */
export async function startNumbers(tx: TenantTransaction, kind: NumberKind, first: bigint): Promise<void> {
  await tx.insert(documentNumbers).values({ tenantId: tx.tenantId, kind, next: first });
}

/** Waits until nobody else takes a number of this kind, until the transaction ends; takes none itself. */
export async function lockNumbers(tx: TenantTransaction, kind: NumberKind): Promise<void> {
  await tx
    .select({ kind: documentNumbers.kind })
    .from(documentNumbers)
    .where(and(eq(documentNumbers.tenantId, tx.tenantId), eq(documentNumbers.kind, kind)))
    .for('update');
}

/**
 * Takes the next number. The row stays locked until the transaction ends and goes back with it, so there are no
 * gaps; take it late, since others of the tenant wait.
 */
export async function takeNumber(tx: TenantTransaction, kind: NumberKind): Promise<bigint> {
  const [row] = await tx
    .update(documentNumbers)
    .set({ next: sql`${documentNumbers.next} + 1` })
    .where(and(eq(documentNumbers.tenantId, tx.tenantId), eq(documentNumbers.kind, kind)))
    .returning({ next: documentNumbers.next });
  if (row === undefined) throw new Error(`the tenant has no numbers of kind ${kind}`);
  return row.next - 1n;
}
