import type { AccountId, Day, PaymentId } from '@grainwright/domain';
import { and, eq, gte, inArray, isNotNull, lte, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoices, invoiceWorkOrders, payments } from '../schema/billing.ts';
import { workOrders } from '../schema/work-orders.ts';

/** What a statement says of the account it is for; its contacts may read it as well. */
export interface StatementAccount {
  readonly id: AccountId;
  readonly name: string;
  readonly billingAddress: string;
}

export async function findStatementAccount(
  tx: TenantTransaction,
  id: AccountId,
): Promise<StatementAccount | null> {
  const [row] = await tx
    .select({ id: accounts.id, name: accounts.name, billingAddress: accounts.billingAddress })
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.id, id)));
  return row ?? null;
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

/** Of the vehicles invoiced in a period for which a new part was quoted: how many, the quotes, their repairs. */
export interface QuotedReplacement {
  readonly vehicles: number;
  readonly quotedMinor: bigint;
  readonly repairsMinor: bigint;
}

export async function findQuotedReplacement(
  tx: TenantTransaction,
  accountId: AccountId,
  from: Day,
  to: Day,
): Promise<QuotedReplacement> {
  const [row] = await tx
    .select({
      vehicles: sql<number>`count(*)::integer`,
      quoted: sql<string>`coalesce(sum(${workOrders.replacementMinor}), 0)`,
      repairs: sql<string>`coalesce(sum(${invoiceWorkOrders.subtotalMinor}), 0)`,
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
        eq(invoices.accountId, accountId),
        gte(invoices.issuedOn, from),
        lte(invoices.issuedOn, to),
        isNotNull(workOrders.replacementMinor),
      ),
    );
  return {
    vehicles: row?.vehicles ?? 0,
    quotedMinor: BigInt(row?.quoted ?? 0),
    repairsMinor: BigInt(row?.repairs ?? 0),
  };
}
