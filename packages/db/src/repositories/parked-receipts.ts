import type { AccountId, Day, PaymentId, ReceiptId } from '@grainwright/domain';
import { and, asc, eq, isNotNull, isNull, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { parkedReceipts, receiptAssignments } from '../schema/receipts.ts';

export type ParkedReceiptRow = Omit<typeof parkedReceipts.$inferSelect, 'tenantId'>;
export type AssignmentRow = Omit<typeof receiptAssignments.$inferSelect, 'tenantId'>;

/** False when the id is taken. */
export async function insertParkedReceipt(tx: TenantTransaction, row: ParkedReceiptRow): Promise<boolean> {
  const inserted = await tx
    .insert(parkedReceipts)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: parkedReceipts.id });
  return inserted.length === 1;
}

/** False when it was assigned before. */
export async function insertAssignment(tx: TenantTransaction, row: AssignmentRow): Promise<boolean> {
  const inserted = await tx
    .insert(receiptAssignments)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ receiptId: receiptAssignments.receiptId });
  return inserted.length === 1;
}

export interface FoundReceipt extends ParkedReceiptRow {
  /** Whose payment it became; null while nobody knows. */
  readonly assigned: {
    readonly accountId: AccountId;
    readonly accountName: string;
    readonly paymentId: PaymentId;
    readonly assignedOn: Day;
  } | null;
}

export async function findParkedReceipt(tx: TenantTransaction, id: ReceiptId): Promise<FoundReceipt | null> {
  const [row] = await listReceipts(tx, eq(parkedReceipts.id, id), 1);
  return row ?? null;
}

export interface ReceiptFilter {
  readonly assigned: boolean;
  readonly past: { readonly receivedOn: Day; readonly id: ReceiptId } | null;
  readonly limit: number;
}

/** Oldest first: they have waited longest. */
export function listParkedReceiptRows(
  tx: TenantTransaction,
  { assigned, past, limit }: ReceiptFilter,
): Promise<readonly FoundReceipt[]> {
  const where = and(
    assigned ? isNotNull(receiptAssignments.receiptId) : isNull(receiptAssignments.receiptId),
    past === null
      ? undefined
      : sql`(${parkedReceipts.receivedOn}, ${parkedReceipts.id}) > (${past.receivedOn}::date, ${past.id}::uuid)`,
  );
  return listReceipts(tx, where, limit);
}

async function listReceipts(
  tx: TenantTransaction,
  where: SQL | undefined,
  limit: number,
): Promise<readonly FoundReceipt[]> {
  const rows = await tx
    .select({
      id: parkedReceipts.id,
      method: parkedReceipts.method,
      reference: parkedReceipts.reference,
      payer: parkedReceipts.payer,
      amountMinor: parkedReceipts.amountMinor,
      currency: parkedReceipts.currency,
      receivedOn: parkedReceipts.receivedOn,
      recordedBy: parkedReceipts.recordedBy,
      recordedAt: parkedReceipts.recordedAt,
      assignment: receiptAssignments,
      accountName: accounts.name,
    })
    .from(parkedReceipts)
    .leftJoin(
      receiptAssignments,
      and(
        eq(receiptAssignments.tenantId, parkedReceipts.tenantId),
        eq(receiptAssignments.receiptId, parkedReceipts.id),
      ),
    )
    .leftJoin(
      accounts,
      and(eq(accounts.tenantId, parkedReceipts.tenantId), eq(accounts.id, receiptAssignments.accountId)),
    )
    .where(and(eq(parkedReceipts.tenantId, tx.tenantId), where))
    .orderBy(asc(parkedReceipts.receivedOn), asc(parkedReceipts.id))
    .limit(limit);
  return rows.map(({ assignment, accountName, ...row }) => ({
    ...row,
    assigned:
      assignment === null
        ? null
        : {
            accountId: assignment.accountId,
            accountName: accountName ?? '',
            paymentId: assignment.paymentId,
            assignedOn: assignment.assignedOn,
          },
  }));
}

/** What waits for its payer, in all. */
export async function sumParked(tx: TenantTransaction): Promise<bigint> {
  const [row] = await tx
    .select({ sum: sql<string>`coalesce(sum(${parkedReceipts.amountMinor}), 0)` })
    .from(parkedReceipts)
    .leftJoin(
      receiptAssignments,
      and(
        eq(receiptAssignments.tenantId, parkedReceipts.tenantId),
        eq(receiptAssignments.receiptId, parkedReceipts.id),
      ),
    )
    .where(and(eq(parkedReceipts.tenantId, tx.tenantId), isNull(receiptAssignments.receiptId)));
  return BigInt(row?.sum ?? 0);
}
