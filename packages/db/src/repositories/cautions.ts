import { and, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { cautionAcknowledgments } from '../schema/work-orders.ts';

export type CautionAcknowledgment = typeof cautionAcknowledgments.$inferSelect;

/** Inserts unless the id is taken; answers whether it did. */
export async function insertCautionAcknowledgment(
  tx: TenantTransaction,
  acknowledgment: Omit<CautionAcknowledgment, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(cautionAcknowledgments)
    .values({ tenantId: tx.tenantId, ...acknowledgment })
    .onConflictDoNothing()
    .returning({ id: cautionAcknowledgments.id });
  return inserted.length === 1;
}

export async function findCautionAcknowledgment(
  tx: TenantTransaction,
  id: string,
): Promise<CautionAcknowledgment | null> {
  const [row] = await tx
    .select()
    .from(cautionAcknowledgments)
    .where(and(eq(cautionAcknowledgments.tenantId, tx.tenantId), eq(cautionAcknowledgments.id, id)));
  return row ?? null;
}
