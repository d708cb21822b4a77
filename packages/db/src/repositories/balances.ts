import type { AccountId, Day, InvoiceId, PaymentId } from '@grainwright/domain';
import { and, asc, eq, gte, inArray, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoiceBalances, invoices, paymentBalances } from '../schema/billing.ts';
import { openingItems, openings } from '../schema/receipts.ts';

/** What is open of an invoice, or of another document that ages like one, under lock. */
export interface LockedInvoice {
  readonly id: InvoiceId;
  readonly accountId: AccountId;
  readonly number: string;
  /** The day it entered these books: for a balance from older ones, the day it was brought along. */
  readonly issuedOn: Day;
  readonly openMinor: bigint;
}

/**
 * Locks what is open of these invoices of an account, always in the order of their ids. Invoices are locked
 * before payments, and both before work orders and running numbers, so that nobody waits in a circle.
 */
export function lockInvoiceBalances(
  tx: TenantTransaction,
  accountId: AccountId,
  ids: readonly InvoiceId[],
): Promise<readonly LockedInvoice[]> {
  return lockBalancesWhere(tx, ids, eq(invoices.accountId, accountId));
}

/** As `lockInvoiceBalances`, for invoices of several accounts at once. */
export function lockBalancesOfInvoices(
  tx: TenantTransaction,
  ids: readonly InvoiceId[],
): Promise<readonly LockedInvoice[]> {
  return lockBalancesWhere(tx, ids, undefined);
}

async function lockBalancesWhere(
  tx: TenantTransaction,
  ids: readonly InvoiceId[],
  where: SQL | undefined,
): Promise<readonly LockedInvoice[]> {
  if (ids.length === 0) return [];
  return tx
    .select({
      id: invoices.id,
      accountId: invoices.accountId,
      number: invoices.number,
      issuedOn: sql<Day>`coalesce((select o.brought_on from ${openingItems} i
        join ${openings} o on o.tenant_id = i.tenant_id and o.id = i.opening_id
        where i.tenant_id = ${invoices.tenantId} and i.invoice_id = ${invoices.id}), ${invoices.issuedOn})`,
      openMinor: invoiceBalances.openMinor,
    })
    .from(invoiceBalances)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceBalances.tenantId), eq(invoices.id, invoiceBalances.invoiceId)),
    )
    .where(
      and(eq(invoiceBalances.tenantId, tx.tenantId), inArray(invoiceBalances.invoiceId, [...ids]), where),
    )
    .orderBy(asc(invoiceBalances.invoiceId))
    .for('update', { of: invoiceBalances });
}

/** Locks what is unapplied of a payment; lock its invoices first. */
export async function lockPaymentBalance(tx: TenantTransaction, id: PaymentId): Promise<bigint> {
  const unappliedMinor = (await lockPaymentBalances(tx, [id])).get(id);
  if (unappliedMinor === undefined) throw new Error('a payment without its balance');
  return unappliedMinor;
}

/** Locks what is unapplied of payments, always in the order of their ids. */
export async function lockPaymentBalances(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<ReadonlyMap<PaymentId, bigint>> {
  if (ids.length === 0) return new Map();
  const rows = await tx
    .select({ id: paymentBalances.paymentId, unappliedMinor: paymentBalances.unappliedMinor })
    .from(paymentBalances)
    .where(and(eq(paymentBalances.tenantId, tx.tenantId), inArray(paymentBalances.paymentId, [...ids])))
    .orderBy(asc(paymentBalances.paymentId))
    .for('update');
  return new Map(rows.map((row) => [row.id, row.unappliedMinor]));
}

/**
 * Lets one at a time decide what becomes of a payment: what it settles is read before its invoices are locked, and must
 * not change in between. Taken before all other locks, and released when the transaction ends.
 */
export async function holdPayments(tx: TenantTransaction, ids: readonly PaymentId[]): Promise<void> {
  for (const id of ids.toSorted())
    await tx.execute(
      sql`select pg_advisory_xact_lock(hashtextextended(${`payment ${tx.tenantId} ${id}`}, 0))`,
    );
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

/** Gives an amount back to what is unapplied of a payment. */
export async function raisePaymentBalance(
  tx: TenantTransaction,
  id: PaymentId,
  amountMinor: bigint,
): Promise<void> {
  await tx
    .update(paymentBalances)
    .set({ unappliedMinor: sql`${paymentBalances.unappliedMinor} + ${amountMinor.toString()}::bigint` })
    .where(and(eq(paymentBalances.tenantId, tx.tenantId), eq(paymentBalances.paymentId, id)));
}
