import type { ClearingMovementId, Day } from '@grainwright/domain';
import { and, desc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { journalLines } from '../schema/billing.ts';
import { clearingMovements } from '../schema/receipts.ts';

export type ClearingRow = Omit<typeof clearingMovements.$inferSelect, 'tenantId'>;

/** False when the id is taken. */
export async function insertClearingMovement(tx: TenantTransaction, row: ClearingRow): Promise<boolean> {
  const inserted = await tx
    .insert(clearingMovements)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: clearingMovements.id });
  return inserted.length === 1;
}

export async function findClearingMovement(
  tx: TenantTransaction,
  id: ClearingMovementId,
): Promise<ClearingRow | null> {
  const [row] = await tx
    .select()
    .from(clearingMovements)
    .where(and(eq(clearingMovements.tenantId, tx.tenantId), eq(clearingMovements.id, id)));
  return row ?? null;
}

/** Latest first. */
export async function listClearingMovements(
  tx: TenantTransaction,
  past: { readonly occurredOn: Day; readonly id: ClearingMovementId } | null,
  limit: number,
): Promise<readonly ClearingRow[]> {
  const where =
    past === null
      ? undefined
      : sql`(${clearingMovements.occurredOn}, ${clearingMovements.id}) < (${past.occurredOn}::date, ${past.id}::uuid)`;
  return tx
    .select()
    .from(clearingMovements)
    .where(and(eq(clearingMovements.tenantId, tx.tenantId), where))
    .orderBy(desc(clearingMovements.occurredOn), desc(clearingMovements.id))
    .limit(limit);
}

/** What the processor still has to pay out. */
export async function sumInClearing(tx: TenantTransaction): Promise<bigint> {
  const [row] = await tx
    .select({ sum: sql<string>`coalesce(sum(${journalLines.amountMinor}), 0)` })
    .from(journalLines)
    .where(and(eq(journalLines.tenantId, tx.tenantId), eq(journalLines.ledgerAccount, 'clearing')));
  return BigInt(row?.sum ?? 0);
}
