import type { AccountId, Day, InvoiceId } from '@grainwright/domain';
import { and, asc, eq, gt, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoiceBalances, invoices } from '../schema/billing.ts';
import { disputeAnswers, disputes } from '../schema/disputes.ts';
import type { InvoiceRow } from './invoices.ts';

/**
 * Writes a document that bills no work (a fee, a late charge, a balance from older books); all of it is open. False when
 * its id or its number is taken.
 */
export async function insertOpenDocument(
  tx: TenantTransaction,
  document: Omit<typeof invoices.$inferInsert, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(invoices)
    .values({ tenantId: tx.tenantId, ...document })
    .onConflictDoNothing()
    .returning({ id: invoices.id });
  if (inserted.length === 0) return false;
  await tx
    .insert(invoiceBalances)
    .values({ tenantId: tx.tenantId, invoiceId: document.id, openMinor: document.totalMinor });
  return true;
}

/** A document of an account that has something open. */
export interface DocumentToPay {
  readonly id: InvoiceId;
  readonly number: string;
  readonly kind: InvoiceRow['kind'];
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  readonly totalMinor: bigint;
  readonly openMinor: bigint;
  /** What of it the customer does not agree with. */
  readonly disputedMinor: bigint;
  readonly currency: string;
}

/** What accounts have open, oldest due first; after the document `past` where there is one. */
export async function listDocumentsToPay(
  tx: TenantTransaction,
  asked: {
    readonly accountIds: readonly AccountId[];
    readonly past: InvoiceId | null;
    readonly limit: number;
  },
): Promise<readonly DocumentToPay[]> {
  const { accountIds, past, limit } = asked;
  if (accountIds.length === 0) return [];
  return tx
    .select({
      id: invoices.id,
      number: invoices.number,
      kind: invoices.kind,
      accountId: invoices.accountId,
      accountName: accounts.name,
      issuedOn: invoices.issuedOn,
      dueOn: invoices.dueOn,
      totalMinor: invoices.totalMinor,
      openMinor: invoiceBalances.openMinor,
      disputedMinor: inDispute,
      currency: invoices.currency,
    })
    .from(invoices)
    .innerJoin(
      invoiceBalances,
      and(eq(invoiceBalances.tenantId, invoices.tenantId), eq(invoiceBalances.invoiceId, invoices.id)),
    )
    .innerJoin(accounts, and(eq(accounts.tenantId, invoices.tenantId), eq(accounts.id, invoices.accountId)))
    .where(
      and(
        eq(invoices.tenantId, tx.tenantId),
        inArray(invoices.accountId, [...accountIds]),
        gt(invoiceBalances.openMinor, 0n),
        past === null
          ? undefined
          : sql`(${invoices.dueOn}, ${invoices.issuedOn}, ${invoices.sequence}, ${invoices.id}) >
              (select p.due_on, p.issued_on, p.sequence, p.id from ${invoices} p
                where p.tenant_id = ${tx.tenantId}::uuid and p.id = ${past}::uuid)`,
      ),
    )
    .orderBy(asc(invoices.dueOn), asc(invoices.issuedOn), asc(invoices.sequence), asc(invoices.id))
    .limit(limit);
}

const inDispute =
  sql`least(${invoiceBalances.openMinor}, (select coalesce(sum(d.amount_minor), 0) from ${disputes} d
  where d.tenant_id = ${invoices.tenantId} and d.invoice_id = ${invoices.id} and not exists (
    select 1 from ${disputeAnswers} s where s.tenant_id = d.tenant_id and s.dispute_id = d.id)))`.mapWith(
    (value: string) => BigInt(value),
  );
