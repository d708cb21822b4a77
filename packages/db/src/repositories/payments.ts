import type { AccountId, ApplicationId, Day, InvoiceId, PaymentId } from '@grainwright/domain';
import { and, asc, desc, eq, gte, inArray, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import {
  invoiceBalances,
  invoices,
  paymentApplications,
  paymentBalances,
  payments,
} from '../schema/billing.ts';

export type PaymentRow = typeof payments.$inferSelect;
export type ApplicationRow = typeof paymentApplications.$inferSelect;

/** Writes a payment of which nothing is applied yet. False when the id is taken. */
export async function insertPayment(
  tx: TenantTransaction,
  payment: Omit<PaymentRow, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(payments)
    .values({ tenantId: tx.tenantId, ...payment })
    // Whichever unique index two senders at once meet on first: it is the same payment on all of them.
    .onConflictDoNothing()
    .returning({ id: payments.id });
  if (inserted.length === 0) return false;
  await tx
    .insert(paymentBalances)
    .values({ tenantId: tx.tenantId, paymentId: payment.id, unappliedMinor: payment.amountMinor });
  return true;
}

export interface FoundPayment extends Omit<PaymentRow, 'tenantId'> {
  readonly accountName: string;
  readonly unappliedMinor: bigint;
}

export async function findPayment(tx: TenantTransaction, id: PaymentId): Promise<FoundPayment | null> {
  const [row] = await selectPayments(tx, eq(payments.id, id)).limit(1);
  return row ?? null;
}

export interface PaymentFilter {
  readonly accountId: AccountId | null;
  /** Only those received earlier, or on the same day with a smaller id. */
  readonly before: { readonly receivedOn: Day; readonly id: PaymentId } | null;
  readonly limit: number;
}

/** Latest received first. */
export async function listPayments(
  tx: TenantTransaction,
  filter: PaymentFilter,
): Promise<readonly FoundPayment[]> {
  const where = and(
    filter.accountId === null ? undefined : eq(payments.accountId, filter.accountId),
    filter.before === null
      ? undefined
      : sql`(${payments.receivedOn}, ${payments.id}) < (${filter.before.receivedOn}::date, ${filter.before.id}::uuid)`,
  );
  return selectPayments(tx, where).orderBy(desc(payments.receivedOn), desc(payments.id)).limit(filter.limit);
}

function selectPayments(tx: TenantTransaction, where: SQL | undefined) {
  return tx
    .select({
      id: payments.id,
      accountId: payments.accountId,
      accountName: accounts.name,
      method: payments.method,
      reference: payments.reference,
      amountMinor: payments.amountMinor,
      currency: payments.currency,
      receivedOn: payments.receivedOn,
      recordedBy: payments.recordedBy,
      recordedAt: payments.recordedAt,
      purpose: payments.purpose,
      workOrderId: payments.workOrderId,
      unappliedMinor: paymentBalances.unappliedMinor,
    })
    .from(payments)
    .innerJoin(
      paymentBalances,
      and(eq(paymentBalances.tenantId, payments.tenantId), eq(paymentBalances.paymentId, payments.id)),
    )
    .innerJoin(accounts, and(eq(accounts.tenantId, payments.tenantId), eq(accounts.id, payments.accountId)))
    .where(and(eq(payments.tenantId, tx.tenantId), where));
}

/** What a payment was applied to, or what settled an invoice. */
export interface FoundApplication {
  readonly id: ApplicationId;
  readonly paymentId: PaymentId;
  readonly invoiceId: InvoiceId;
  readonly invoiceNumber: string;
  readonly amountMinor: bigint;
  readonly appliedOn: Day;
  readonly appliedAt: ApplicationRow['appliedAt'];
  readonly method: PaymentRow['method'];
  readonly reference: string;
  readonly receivedOn: Day;
}

export function listApplicationsOfPayments(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<readonly FoundApplication[]> {
  return listApplications(tx, inArray(paymentApplications.paymentId, [...ids]));
}

export function listApplicationsOfInvoice(
  tx: TenantTransaction,
  id: InvoiceId,
): Promise<readonly FoundApplication[]> {
  return listApplications(tx, eq(paymentApplications.invoiceId, id));
}

export async function findApplication(
  tx: TenantTransaction,
  id: ApplicationId,
): Promise<FoundApplication | null> {
  const [row] = await listApplications(tx, eq(paymentApplications.id, id));
  return row ?? null;
}

async function listApplications(tx: TenantTransaction, where: SQL): Promise<readonly FoundApplication[]> {
  return tx
    .select({
      id: paymentApplications.id,
      paymentId: paymentApplications.paymentId,
      invoiceId: paymentApplications.invoiceId,
      invoiceNumber: invoices.number,
      amountMinor: paymentApplications.amountMinor,
      appliedOn: paymentApplications.appliedOn,
      appliedAt: paymentApplications.appliedAt,
      method: payments.method,
      reference: payments.reference,
      receivedOn: payments.receivedOn,
    })
    .from(paymentApplications)
    .innerJoin(
      invoices,
      and(
        eq(invoices.tenantId, paymentApplications.tenantId),
        eq(invoices.id, paymentApplications.invoiceId),
      ),
    )
    .innerJoin(
      payments,
      and(
        eq(payments.tenantId, paymentApplications.tenantId),
        eq(payments.id, paymentApplications.paymentId),
      ),
    )
    .where(and(eq(paymentApplications.tenantId, tx.tenantId), where))
    .orderBy(asc(paymentApplications.appliedAt), asc(invoices.sequence));
}

/** What is open of an invoice, under lock. */
export interface LockedInvoice {
  readonly id: InvoiceId;
  readonly number: string;
  readonly issuedOn: Day;
  readonly openMinor: bigint;
}

/**
 * Locks what is open of these invoices of an account, always in the order of their ids. Invoices are locked
 * before payments, and both before work orders and running numbers, so that nobody waits in a circle.
 */
export async function lockInvoiceBalances(
  tx: TenantTransaction,
  accountId: AccountId,
  ids: readonly InvoiceId[],
): Promise<readonly LockedInvoice[]> {
  return tx
    .select({
      id: invoices.id,
      number: invoices.number,
      issuedOn: invoices.issuedOn,
      openMinor: invoiceBalances.openMinor,
    })
    .from(invoiceBalances)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceBalances.tenantId), eq(invoices.id, invoiceBalances.invoiceId)),
    )
    .where(
      and(
        eq(invoiceBalances.tenantId, tx.tenantId),
        inArray(invoiceBalances.invoiceId, [...ids]),
        eq(invoices.accountId, accountId),
      ),
    )
    .orderBy(asc(invoiceBalances.invoiceId))
    .for('update', { of: invoiceBalances });
}

/** Locks what is unapplied of a payment; lock its invoices first. */
export async function lockPaymentBalance(tx: TenantTransaction, id: PaymentId): Promise<bigint> {
  const [row] = await tx
    .select({ unappliedMinor: paymentBalances.unappliedMinor })
    .from(paymentBalances)
    .where(and(eq(paymentBalances.tenantId, tx.tenantId), eq(paymentBalances.paymentId, id)))
    .for('update');
  if (row === undefined) throw new Error('a payment without its balance');
  return row.unappliedMinor;
}

/** Takes an amount off what is open of an invoice; null when less than that is open, and nothing happens. */
export async function reduceInvoiceBalance(
  tx: TenantTransaction,
  id: InvoiceId,
  amountMinor: bigint,
): Promise<bigint | null> {
  const [row] = await tx
    .update(invoiceBalances)
    .set({ openMinor: sql`${invoiceBalances.openMinor} - ${amountMinor.toString()}::bigint` })
    .where(
      and(
        eq(invoiceBalances.tenantId, tx.tenantId),
        eq(invoiceBalances.invoiceId, id),
        gte(invoiceBalances.openMinor, amountMinor),
      ),
    )
    .returning({ openMinor: invoiceBalances.openMinor });
  return row?.openMinor ?? null;
}

/** Gives an amount back to what is open of an invoice. */
export async function raiseInvoiceBalance(
  tx: TenantTransaction,
  id: InvoiceId,
  amountMinor: bigint,
): Promise<void> {
  await tx
    .update(invoiceBalances)
    .set({ openMinor: sql`${invoiceBalances.openMinor} + ${amountMinor.toString()}::bigint` })
    .where(and(eq(invoiceBalances.tenantId, tx.tenantId), eq(invoiceBalances.invoiceId, id)));
}

/** Takes an amount off what is unapplied of a payment; null when it has less than that left, and nothing happens. */
export async function reducePaymentBalance(
  tx: TenantTransaction,
  id: PaymentId,
  amountMinor: bigint,
): Promise<bigint | null> {
  const [row] = await tx
    .update(paymentBalances)
    .set({ unappliedMinor: sql`${paymentBalances.unappliedMinor} - ${amountMinor.toString()}::bigint` })
    .where(
      and(
        eq(paymentBalances.tenantId, tx.tenantId),
        eq(paymentBalances.paymentId, id),
        gte(paymentBalances.unappliedMinor, amountMinor),
      ),
    )
    .returning({ unappliedMinor: paymentBalances.unappliedMinor });
  return row?.unappliedMinor ?? null;
}

/** Writes applications of payments. False when the id of one of them is taken. */
export async function insertApplications(
  tx: TenantTransaction,
  applications: readonly Omit<ApplicationRow, 'tenantId'>[],
): Promise<boolean> {
  const inserted = await tx
    .insert(paymentApplications)
    .values(applications.map((application) => ({ tenantId: tx.tenantId, ...application })))
    .onConflictDoNothing({ target: [paymentApplications.tenantId, paymentApplications.id] })
    .returning({ id: paymentApplications.id });
  return inserted.length === applications.length;
}
