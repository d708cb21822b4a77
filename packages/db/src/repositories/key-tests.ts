import type { KeyTestId, WorkOrderId } from '@grainwright/domain';
import { and, desc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { keyTests } from '../schema/evidence.ts';

export type KeyTestRow = typeof keyTests.$inferSelect;

/** False when the id is taken. */
export async function insertKeyTest(
  tx: TenantTransaction,
  row: Omit<KeyTestRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(keyTests)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: keyTests.id });
  return rows.length === 1;
}

export async function findKeyTest(tx: TenantTransaction, id: KeyTestId): Promise<KeyTestRow | null> {
  const [row] = await tx
    .select()
    .from(keyTests)
    .where(and(eq(keyTests.tenantId, tx.tenantId), eq(keyTests.id, id)));
  return row ?? null;
}

/** The sheets of a work order, the newest first: of each line the first one counts. */
export async function listKeyTests(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly KeyTestRow[]> {
  return tx
    .select()
    .from(keyTests)
    .where(and(eq(keyTests.tenantId, tx.tenantId), eq(keyTests.workOrderId, workOrderId)))
    .orderBy(desc(keyTests.testedAt), desc(keyTests.id))
    .limit(100);
}
