import type { AccountId, ApplicationId, Day, InvoiceId, PaymentId } from '@grainwright/domain';
import { and, asc, desc, eq, gt, inArray, isNull, ne, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoices, paymentApplications, paymentBalances, payments } from '../schema/billing.ts';
import { paymentReturns, paymentUnapplications } from '../schema/receipts.ts';

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
  /** The day it came back; null while it has not. */
  readonly returnedOn: Day | null;
}

export async function findPayment(tx: TenantTransaction, id: PaymentId): Promise<FoundPayment | null> {
  const [row] = await selectPayments(tx, eq(payments.id, id)).limit(1);
  return row ?? null;
}

/** Another payment that says the same and has not come back; null where there is none. */
export async function findTwinPayment(
  tx: TenantTransaction,
  payment: Pick<PaymentRow, 'id' | 'accountId' | 'method' | 'amountMinor' | 'reference' | 'receivedOn'>,
): Promise<FoundPayment | null> {
  const { id, accountId, method, amountMinor, reference, receivedOn } = payment;
  const twins = and(
    ne(payments.id, id),
    eq(payments.accountId, accountId),
    eq(payments.purpose, 'payment'),
    eq(payments.method, method),
    eq(payments.amountMinor, amountMinor),
    eq(payments.reference, reference),
    eq(payments.receivedOn, receivedOn),
    isNull(paymentReturns.id),
  );
  const [row] = await selectPayments(tx, twins).limit(1);
  return row ?? null;
}

export interface PaymentFilter {
  readonly accountId: AccountId | null;
  readonly show: 'all' | 'unapplied' | 'deposits' | 'deposits_held' | 'returned';
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
    shown[filter.show],
    filter.before === null
      ? undefined
      : sql`(${payments.receivedOn}, ${payments.id}) < (${filter.before.receivedOn}::date, ${filter.before.id}::uuid)`,
  );
  return selectPayments(tx, where).orderBy(desc(payments.receivedOn), desc(payments.id)).limit(filter.limit);
}

const shown: Readonly<Record<PaymentFilter['show'], SQL | undefined>> = {
  all: undefined,
  unapplied: gt(paymentBalances.unappliedMinor, 0n),
  deposits: eq(payments.purpose, 'deposit'),
  deposits_held: and(eq(payments.purpose, 'deposit'), gt(paymentBalances.unappliedMinor, 0n)),
  returned: sql`${paymentReturns.id} is not null`,
};

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
      returnedOn: paymentReturns.returnedOn,
    })
    .from(payments)
    .innerJoin(
      paymentBalances,
      and(eq(paymentBalances.tenantId, payments.tenantId), eq(paymentBalances.paymentId, payments.id)),
    )
    .innerJoin(accounts, and(eq(accounts.tenantId, payments.tenantId), eq(accounts.id, payments.accountId)))
    .leftJoin(
      paymentReturns,
      and(eq(paymentReturns.tenantId, payments.tenantId), eq(paymentReturns.paymentId, payments.id)),
    )
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
  /** Without anybody asking. */
  readonly byRule: boolean;
  readonly method: PaymentRow['method'];
  readonly purpose: PaymentRow['purpose'];
  readonly reference: string;
  readonly receivedOn: Day;
  /** The day it was taken back, after which it settles nothing; null while it does. */
  readonly unappliedOn: Day | null;
  readonly unappliedReason: string | null;
}

/** Also those that were taken back. */
export function listApplicationsOfPayments(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<readonly FoundApplication[]> {
  return listApplications(tx, inArray(paymentApplications.paymentId, [...ids]));
}

/** Those that settle something of it now. */
export function listApplicationsOfInvoice(
  tx: TenantTransaction,
  id: InvoiceId,
): Promise<readonly FoundApplication[]> {
  return listApplications(
    tx,
    and(eq(paymentApplications.invoiceId, id), isNull(paymentUnapplications.applicationId)),
  );
}

export async function findApplication(
  tx: TenantTransaction,
  id: ApplicationId,
): Promise<FoundApplication | null> {
  const [row] = await listApplications(tx, eq(paymentApplications.id, id));
  return row ?? null;
}

async function listApplications(
  tx: TenantTransaction,
  where: SQL | undefined,
): Promise<readonly FoundApplication[]> {
  return tx
    .select({
      id: paymentApplications.id,
      paymentId: paymentApplications.paymentId,
      invoiceId: paymentApplications.invoiceId,
      invoiceNumber: invoices.number,
      amountMinor: paymentApplications.amountMinor,
      appliedOn: paymentApplications.appliedOn,
      appliedAt: paymentApplications.appliedAt,
      byRule: paymentApplications.byRule,
      method: payments.method,
      purpose: payments.purpose,
      reference: payments.reference,
      receivedOn: payments.receivedOn,
      unappliedOn: paymentUnapplications.unappliedOn,
      unappliedReason: paymentUnapplications.reason,
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
    .leftJoin(
      paymentUnapplications,
      and(
        eq(paymentUnapplications.tenantId, paymentApplications.tenantId),
        eq(paymentUnapplications.applicationId, paymentApplications.id),
      ),
    )
    .where(and(eq(paymentApplications.tenantId, tx.tenantId), where))
    .orderBy(asc(paymentApplications.appliedAt), asc(invoices.sequence));
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
