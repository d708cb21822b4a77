import type { AccountId, Day, InvoiceId, PaymentId } from '@grainwright/domain';
import { and, asc, eq, gt, gte, inArray, isNotNull, isNull, lte, ne, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoices, invoiceWorkOrders, journalEntries, journalLines, payments } from '../schema/billing.ts';
import { disputeAnswers, disputes } from '../schema/disputes.ts';
import { workOrders } from '../schema/work-orders.ts';
import { quotedMinor } from './replacement-quotes.ts';
import { stillStands } from './voids.ts';

/** What a statement says of the account it is for; its contacts may read it as well. */
export interface StatementAccount {
  readonly id: AccountId;
  readonly name: string;
  readonly billingAddress: string;
  readonly statementKind: (typeof accounts.$inferSelect)['statementKind'];
  readonly openedOn: Day;
}

export async function findStatementAccount(
  tx: TenantTransaction,
  id: AccountId,
): Promise<StatementAccount | null> {
  const [row] = await tx
    .select(accountColumns)
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)));
  return row ?? null;
}

const accountColumns = {
  id: accounts.id,
  name: accounts.name,
  billingAddress: accounts.billingAddress,
  statementKind: accounts.statementKind,
  openedOn: accounts.openedOn,
};

/**
 * These accounts, held until the transaction ends against anybody else who freezes a statement of one of them.
 * Documents and payments of theirs may be written meanwhile.
 */
export async function holdStatementAccounts(
  tx: TenantTransaction,
  ids: readonly AccountId[],
): Promise<readonly StatementAccount[]> {
  return tx
    .select(accountColumns)
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), inArray(accounts.id, [...ids])))
    .orderBy(asc(accounts.id))
    .for('no key update');
}

/** The day of the account's first entry; null while it has none. */
export async function findFirstEntryDay(tx: TenantTransaction, accountId: AccountId): Promise<Day | null> {
  const [row] = await tx
    .select({ day: sql<Day | null>`min(${journalEntries.occurredOn})` })
    .from(journalLines)
    .innerJoin(
      journalEntries,
      and(eq(journalEntries.tenantId, journalLines.tenantId), eq(journalEntries.id, journalLines.entryId)),
    )
    .where(and(eq(journalLines.tenantId, tx.tenantId), eq(journalLines.accountId, accountId)));
  return row?.day ?? null;
}

export interface PaymentFacts {
  readonly id: PaymentId;
  readonly method: (typeof payments.$inferSelect)['method'];
  readonly reference: string;
}

export async function listPaymentFacts(
  tx: TenantTransaction,
  ids: readonly PaymentId[],
): Promise<readonly PaymentFacts[]> {
  if (ids.length === 0) return [];
  return tx
    .select({ id: payments.id, method: payments.method, reference: payments.reference })
    .from(payments)
    .where(and(eq(payments.tenantId, tx.tenantId), inArray(payments.id, [...ids])));
}

/** The customer's own numbers on invoices, vehicle by vehicle: “RO 4471, stock 220”. */
export async function listNumbersOnInvoices(
  tx: TenantTransaction,
  ids: readonly InvoiceId[],
): Promise<ReadonlyMap<InvoiceId, readonly string[]>> {
  if (ids.length === 0) return new Map();
  const rows = await tx
    .select({ invoiceId: invoiceWorkOrders.invoiceId, numbers: invoiceWorkOrders.numbers })
    .from(invoiceWorkOrders)
    .where(
      and(
        eq(invoiceWorkOrders.tenantId, tx.tenantId),
        inArray(invoiceWorkOrders.invoiceId, [...ids]),
        ne(invoiceWorkOrders.numbers, ''),
      ),
    )
    .orderBy(asc(invoiceWorkOrders.invoiceId), asc(invoiceWorkOrders.position));
  const byInvoice = Map.groupBy(rows, (row) => row.invoiceId);
  return new Map([...byInvoice].map(([id, own]) => [id, own.map((row) => row.numbers)]));
}

/** What of each invoice was disputed on a day and had no answer yet. */
export async function sumDisputedOn(
  tx: TenantTransaction,
  ids: readonly InvoiceId[],
  on: Day,
): Promise<ReadonlyMap<InvoiceId, bigint>> {
  if (ids.length === 0) return new Map();
  const rows = await tx
    .select({ invoiceId: disputes.invoiceId, amount: sql<string>`sum(${disputes.amountMinor})` })
    .from(disputes)
    .leftJoin(
      disputeAnswers,
      and(eq(disputeAnswers.tenantId, disputes.tenantId), eq(disputeAnswers.disputeId, disputes.id)),
    )
    .where(
      and(
        eq(disputes.tenantId, tx.tenantId),
        inArray(disputes.invoiceId, [...ids]),
        lte(disputes.openedOn, on),
        or(isNull(disputeAnswers.answeredOn), gt(disputeAnswers.answeredOn, on)),
      ),
    )
    .groupBy(disputes.invoiceId);
  return new Map(rows.map(({ invoiceId, amount }) => [invoiceId, BigInt(amount)]));
}

/** Of the vehicles invoiced in a period for which a new part was quoted: how many, the quotes, their repairs. */
export interface QuotedReplacement {
  readonly vehicles: number;
  readonly quotedMinor: bigint;
  readonly repairsMinor: bigint;
}

/** By account; one without such a vehicle is left out. Invoices that were voided count for nothing. */
export async function sumQuotedReplacements(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
  from: Day,
  to: Day,
): Promise<ReadonlyMap<AccountId, QuotedReplacement>> {
  const quoted = quotedMinor({
    tenantId: sql`${workOrders.tenantId}`,
    id: sql`${workOrders.id}`,
    decisionId: sql`${workOrders.decisionId}`,
  });
  const rows = await tx
    .select({
      accountId: invoices.accountId,
      vehicles: sql<number>`count(*)::integer`,
      quoted: sql<string>`sum(${quoted})`,
      repairs: sql<string>`sum(${invoiceWorkOrders.subtotalMinor})`,
    })
    .from(invoices)
    .innerJoin(
      invoiceWorkOrders,
      and(eq(invoiceWorkOrders.tenantId, invoices.tenantId), eq(invoiceWorkOrders.invoiceId, invoices.id)),
    )
    .innerJoin(
      workOrders,
      and(
        eq(workOrders.tenantId, invoiceWorkOrders.tenantId),
        eq(workOrders.id, invoiceWorkOrders.workOrderId),
      ),
    )
    .where(
      and(
        eq(invoices.tenantId, tx.tenantId),
        inArray(invoices.accountId, [...accountIds]),
        gte(invoices.issuedOn, from),
        lte(invoices.issuedOn, to),
        isNotNull(quoted),
        stillStands,
      ),
    )
    .groupBy(invoices.accountId);
  return new Map(
    rows.map(({ accountId, vehicles, quoted, repairs }) => [
      accountId,
      { vehicles, quotedMinor: BigInt(quoted), repairsMinor: BigInt(repairs) },
    ]),
  );
}
