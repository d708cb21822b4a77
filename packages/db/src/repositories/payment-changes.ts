import type {
  AccountId,
  CreditMoveId,
  Day,
  PaymentId,
  RefundId,
  ReturnId,
  UnapplicationId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, eq, gt, inArray, isNull, lte, ne, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoices, paymentBalances, payments } from '../schema/billing.ts';
import { creditMoves, paymentReturns, paymentUnapplications, refunds } from '../schema/receipts.ts';

export type ReturnRow = Omit<typeof paymentReturns.$inferSelect, 'tenantId'>;
export type UnapplicationRow = Omit<typeof paymentUnapplications.$inferSelect, 'tenantId'>;
export type RefundRow = Omit<typeof refunds.$inferSelect, 'tenantId'>;
export type CreditMoveRow = Omit<typeof creditMoves.$inferSelect, 'tenantId'>;

/** False when the id is taken, or the payment came back before. */
export async function insertReturn(tx: TenantTransaction, row: ReturnRow): Promise<boolean> {
  const inserted = await tx
    .insert(paymentReturns)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: paymentReturns.id });
  return inserted.length === 1;
}

export interface FoundReturn extends ReturnRow {
  readonly feeNumber: string | null;
  readonly feeMinor: bigint | null;
}

export async function findReturnOf(tx: TenantTransaction, paymentId: PaymentId): Promise<FoundReturn | null> {
  return findReturn(tx, eq(paymentReturns.paymentId, paymentId));
}

export async function findReturnById(tx: TenantTransaction, id: ReturnId): Promise<FoundReturn | null> {
  return findReturn(tx, eq(paymentReturns.id, id));
}

async function findReturn(tx: TenantTransaction, where: SQL): Promise<FoundReturn | null> {
  const [row] = await tx
    .select({
      id: paymentReturns.id,
      accountId: paymentReturns.accountId,
      paymentId: paymentReturns.paymentId,
      returnedOn: paymentReturns.returnedOn,
      reason: paymentReturns.reason,
      feeInvoiceId: paymentReturns.feeInvoiceId,
      recordedBy: paymentReturns.recordedBy,
      recordedAt: paymentReturns.recordedAt,
      feeNumber: invoices.number,
      feeMinor: invoices.totalMinor,
    })
    .from(paymentReturns)
    .leftJoin(
      invoices,
      and(eq(invoices.tenantId, paymentReturns.tenantId), eq(invoices.id, paymentReturns.feeInvoiceId)),
    )
    .where(and(eq(paymentReturns.tenantId, tx.tenantId), where));
  return row ?? null;
}

/** False when one of the ids is taken, or an application was taken back before. */
export async function insertUnapplications(
  tx: TenantTransaction,
  rows: readonly UnapplicationRow[],
): Promise<boolean> {
  if (rows.length === 0) return true;
  const inserted = await tx
    .insert(paymentUnapplications)
    .values(rows.map((row) => ({ tenantId: tx.tenantId, ...row })))
    .onConflictDoNothing()
    .returning({ id: paymentUnapplications.id });
  return inserted.length === rows.length;
}

export async function findUnapplication(
  tx: TenantTransaction,
  id: UnapplicationId,
): Promise<UnapplicationRow | null> {
  const [row] = await tx
    .select()
    .from(paymentUnapplications)
    .where(and(eq(paymentUnapplications.tenantId, tx.tenantId), eq(paymentUnapplications.id, id)));
  return row ?? null;
}

/** False when the id is taken. */
export async function insertRefund(tx: TenantTransaction, row: RefundRow): Promise<boolean> {
  const inserted = await tx
    .insert(refunds)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: refunds.id });
  return inserted.length === 1;
}

export async function findRefund(tx: TenantTransaction, id: RefundId): Promise<RefundRow | null> {
  const [row] = await tx
    .select()
    .from(refunds)
    .where(and(eq(refunds.tenantId, tx.tenantId), eq(refunds.id, id)));
  return row ?? null;
}

export async function listRefundsOf(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<readonly RefundRow[]> {
  return tx
    .select()
    .from(refunds)
    .where(and(eq(refunds.tenantId, tx.tenantId), inArray(refunds.paymentId, [...ids])))
    .orderBy(asc(refunds.refundedOn), asc(refunds.id));
}

/** False when the id is taken, or what it takes back was taken back before. */
export async function insertMove(tx: TenantTransaction, row: CreditMoveRow): Promise<boolean> {
  const inserted = await tx
    .insert(creditMoves)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: creditMoves.id });
  return inserted.length === 1;
}

export async function findMove(tx: TenantTransaction, id: CreditMoveId): Promise<CreditMoveRow | null> {
  const [row] = await tx
    .select()
    .from(creditMoves)
    .where(and(eq(creditMoves.tenantId, tx.tenantId), eq(creditMoves.id, id)));
  return row ?? null;
}

/** Credit that went out of these payments, and, where a move was taken back, the move that did so. For staff alone. */
export async function listMovesFrom(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<readonly (CreditMoveRow & { readonly takenBackBy: CreditMoveId | null })[]> {
  return tx
    .select({
      id: creditMoves.id,
      accountId: creditMoves.accountId,
      paymentId: creditMoves.paymentId,
      creditNoteId: creditMoves.creditNoteId,
      toAccountId: creditMoves.toAccountId,
      toPaymentId: creditMoves.toPaymentId,
      amountMinor: creditMoves.amountMinor,
      movedOn: creditMoves.movedOn,
      takesBack: creditMoves.takesBack,
      movedBy: creditMoves.movedBy,
      movedAt: creditMoves.movedAt,
      takenBackBy: sql<CreditMoveId | null>`(select b.id from ${creditMoves} b
        where b.tenant_id = ${creditMoves.tenantId} and b.takes_back = ${creditMoves.id})`,
    })
    .from(creditMoves)
    .where(and(eq(creditMoves.tenantId, tx.tenantId), inArray(creditMoves.paymentId, [...ids])))
    .orderBy(asc(creditMoves.movedAt), asc(creditMoves.id));
}

/** What of these payments went to other accounts of the group, less what came back from there. */
export async function sumMovedOut(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<ReadonlyMap<PaymentId, bigint>> {
  const rows = await tx
    .select({ paymentId: creditMoves.paymentId, moved: sql<string>`sum(${creditMoves.amountMinor})` })
    .from(creditMoves)
    .where(
      and(
        eq(creditMoves.tenantId, tx.tenantId),
        inArray(creditMoves.paymentId, [...ids]),
        sql`not exists (select 1 from ${creditMoves} b
          where b.tenant_id = ${creditMoves.tenantId} and b.takes_back = ${creditMoves.id})`,
      ),
    )
    .groupBy(creditMoves.paymentId);
  return new Map(
    rows.flatMap((row) => (row.paymentId === null ? [] : [[row.paymentId, BigInt(row.moved)] as const])),
  );
}

/** The account's name and the payment that holds what was moved there. For staff alone. */
export async function namesOfMoves(
  tx: TenantTransaction,
  moveIds: readonly CreditMoveId[],
): Promise<readonly { readonly id: CreditMoveId; readonly accountName: string }[]> {
  if (moveIds.length === 0) return [];
  return tx
    .select({ id: creditMoves.id, accountName: accounts.name })
    .from(creditMoves)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, creditMoves.tenantId), eq(accounts.id, creditMoves.toAccountId)),
    )
    .where(and(eq(creditMoves.tenantId, tx.tenantId), inArray(creditMoves.id, [...moveIds])));
}

/** A deposit that has something left for an invoice. */
export interface OpenDeposit {
  readonly id: PaymentId;
  readonly accountId: AccountId;
  readonly currency: string;
  readonly receivedOn: Day;
  readonly purpose: 'deposit';
  readonly unappliedMinor: bigint;
}

/** The work orders, and the last day on which a deposit for them or for any of the account came. */
export interface DepositsFor {
  readonly accountId: AccountId;
  readonly workOrderIds: readonly WorkOrderId[];
  readonly through: Day;
}

/**
 * Locks the deposits, received through that day, that are for these work orders or for any of the account: first those
 * for the work orders, then by day. The locks are taken in the order of their ids.
 */
export async function lockOpenDeposits(
  tx: TenantTransaction,
  wanted: DepositsFor & {
    /** Passes over those that somebody else handles at this moment, for whoever must not wait any more. */
    readonly withoutWaiting: boolean;
  },
): Promise<readonly OpenDeposit[]> {
  const rows = await tx
    .select({
      id: payments.id,
      accountId: payments.accountId,
      currency: payments.currency,
      receivedOn: payments.receivedOn,
      workOrderId: payments.workOrderId,
      unappliedMinor: paymentBalances.unappliedMinor,
    })
    .from(paymentBalances)
    .innerJoin(
      payments,
      and(eq(payments.tenantId, paymentBalances.tenantId), eq(payments.id, paymentBalances.paymentId)),
    )
    .where(openDeposits(tx, wanted))
    .orderBy(asc(paymentBalances.paymentId))
    .for('update', { of: paymentBalances, ...(wanted.withoutWaiting ? { skipLocked: true } : {}) });
  return rows
    .toSorted((a, b) => orderOf(a).localeCompare(orderOf(b)))
    .filter((row) => row.unappliedMinor > 0n)
    .map(({ workOrderId: _for, ...row }) => ({ ...row, purpose: 'deposit' as const }));
}

function openDeposits(tx: TenantTransaction, { accountId, workOrderIds, through }: DepositsFor) {
  return and(
    eq(paymentBalances.tenantId, tx.tenantId),
    eq(payments.accountId, accountId),
    eq(payments.purpose, 'deposit'),
    gt(paymentBalances.unappliedMinor, 0n),
    lte(payments.receivedOn, through),
    or(
      isNull(payments.workOrderId),
      sql`${payments.workOrderId}::text in (select jsonb_array_elements_text(${JSON.stringify(workOrderIds)}::jsonb))`,
    ),
  );
}

/** What `lockOpenDeposits` would find, added up. Locks nothing. */
export async function sumOpenDeposits(tx: TenantTransaction, wanted: DepositsFor): Promise<bigint> {
  const [row] = await tx
    .select({ sum: sql<string>`coalesce(sum(${paymentBalances.unappliedMinor}), 0)` })
    .from(paymentBalances)
    .innerJoin(
      payments,
      and(eq(payments.tenantId, paymentBalances.tenantId), eq(payments.id, paymentBalances.paymentId)),
    )
    .where(openDeposits(tx, wanted));
  return BigInt(row?.sum ?? 0);
}

function orderOf(row: { workOrderId: string | null; receivedOn: Day; id: PaymentId }): string {
  return `${row.workOrderId === null ? 1 : 0} ${row.receivedOn} ${row.id}`;
}

/** What is held of deposits for a work order, and for whatever its account is invoiced next. */
export async function sumDepositsHeld(
  tx: TenantTransaction,
  accountId: AccountId,
  workOrderId: WorkOrderId,
): Promise<bigint> {
  const [row] = await tx
    .select({ sum: sql<string>`coalesce(sum(${paymentBalances.unappliedMinor}), 0)` })
    .from(payments)
    .innerJoin(
      paymentBalances,
      and(eq(paymentBalances.tenantId, payments.tenantId), eq(paymentBalances.paymentId, payments.id)),
    )
    .where(
      and(
        eq(payments.tenantId, tx.tenantId),
        eq(payments.accountId, accountId),
        eq(payments.purpose, 'deposit'),
        or(isNull(payments.workOrderId), eq(payments.workOrderId, workOrderId)),
      ),
    );
  return BigInt(row?.sum ?? 0);
}

/** A payment or deposit with something left that settles nothing. */
export interface UnappliedPayment {
  readonly id: PaymentId;
  readonly method: (typeof payments.$inferSelect)['method'];
  readonly reference: string;
  readonly purpose: 'payment' | 'deposit';
  readonly receivedOn: Day;
  readonly unappliedMinor: bigint;
}

/** Payments and deposits of an account with something unapplied, oldest first. */
export async function listUnappliedPayments(
  tx: TenantTransaction,
  accountId: AccountId,
  limit: number,
): Promise<readonly UnappliedPayment[]> {
  return tx
    .select({
      id: payments.id,
      method: payments.method,
      reference: payments.reference,
      purpose: payments.purpose,
      receivedOn: payments.receivedOn,
      unappliedMinor: paymentBalances.unappliedMinor,
    })
    .from(payments)
    .innerJoin(
      paymentBalances,
      and(eq(paymentBalances.tenantId, payments.tenantId), eq(paymentBalances.paymentId, payments.id)),
    )
    .where(
      and(
        eq(payments.tenantId, tx.tenantId),
        eq(payments.accountId, accountId),
        gt(paymentBalances.unappliedMinor, 0n),
      ),
    )
    .orderBy(asc(payments.receivedOn), asc(payments.id))
    .limit(limit);
}

/** The other accounts that are paid for together with this one; none where it is in no group. */
export async function listGroupOf(
  tx: TenantTransaction,
  accountId: AccountId,
  limit: number,
): Promise<readonly { readonly id: AccountId; readonly name: string }[]> {
  return tx
    .select({ id: accounts.id, name: accounts.name })
    .from(accounts)
    .where(
      and(
        eq(accounts.tenantId, tx.tenantId),
        ne(accounts.id, accountId),
        sql`${accounts.groupId} = (select own.group_id from ${accounts} own
          where own.tenant_id = ${tx.tenantId}::uuid and own.id = ${accountId}::uuid)`,
      ),
    )
    .orderBy(asc(accounts.name), asc(accounts.id))
    .limit(limit);
}
