import type { AccountId, CreditNoteId, Day, DisputeId, InvoiceId } from '@grainwright/domain';
import { and, asc, eq, gt, gte, inArray, isNull, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people } from '../schema/accounts.ts';
import { invoiceBalances, invoiceLines, invoices, invoiceVoids } from '../schema/billing.ts';
import { creditNotes } from '../schema/credit-notes.ts';
import { disputeAnswers, disputes } from '../schema/disputes.ts';

export type DisputeRow = Omit<typeof disputes.$inferSelect, 'tenantId'>;
export type DisputeAnswerRow = Omit<typeof disputeAnswers.$inferSelect, 'tenantId'>;

/**
 * Waits until nobody else opens or answers a dispute of this invoice, until the transaction ends. An account's contact
 * may not lock the invoice's own rows.
 */
export async function lockDisputesOf(tx: TenantTransaction, invoiceId: InvoiceId): Promise<void> {
  await tx.execute(
    sql`select pg_advisory_xact_lock(hashtextextended(${`disputes ${tx.tenantId} ${invoiceId}`}, 0))`,
  );
}

/** False when the id is taken. */
export async function insertDispute(tx: TenantTransaction, dispute: DisputeRow): Promise<boolean> {
  const inserted = await tx
    .insert(disputes)
    .values({ tenantId: tx.tenantId, ...dispute })
    .onConflictDoNothing({ target: [disputes.tenantId, disputes.id] })
    .returning({ id: disputes.id });
  return inserted.length === 1;
}

/** False when it has its answer already. */
export async function insertDisputeAnswer(tx: TenantTransaction, answer: DisputeAnswerRow): Promise<boolean> {
  const inserted = await tx
    .insert(disputeAnswers)
    .values({ tenantId: tx.tenantId, ...answer })
    .onConflictDoNothing({ target: [disputeAnswers.tenantId, disputeAnswers.disputeId] })
    .returning({ disputeId: disputeAnswers.disputeId });
  return inserted.length === 1;
}

/** A dispute with what it is about and, where there is one, its answer. */
export interface FoundDispute extends DisputeRow {
  readonly accountName: string;
  readonly invoiceNumber: string;
  readonly currency: string;
  readonly invoiceOpenMinor: bigint;
  /** The line as the invoice prints it; null where it is about none. */
  readonly lineDescription: string | null;
  readonly openedByName: string;
  /** Null while the invoice stands. A void answers what is in dispute on it. */
  readonly voidedOn: Day | null;
  readonly answer:
    | (Omit<DisputeAnswerRow, 'disputeId'> & { readonly creditNoteNumber: string | null })
    | null;
}

export async function findDispute(tx: TenantTransaction, id: DisputeId): Promise<FoundDispute | null> {
  const [row] = await selectDisputes(tx, eq(disputes.id, id), 1);
  return row ?? null;
}

export function listDisputesOfInvoices(
  tx: TenantTransaction,
  invoiceIds: readonly InvoiceId[],
): Promise<readonly FoundDispute[]> {
  return invoiceIds.length === 0
    ? Promise.resolve([])
    : selectDisputes(tx, inArray(disputes.invoiceId, [...invoiceIds]), disputesOfInvoicesMax);
}

const disputesOfInvoicesMax = 1000;

export interface DisputeFilter {
  readonly accountId: AccountId | null;
  readonly waitingOnly: boolean;
  /** The last one of the page before. */
  readonly past: DisputeId | null;
  readonly limit: number;
}

/** The longest waiting first. */
export async function listDisputes(
  tx: TenantTransaction,
  filter: DisputeFilter,
): Promise<readonly FoundDispute[]> {
  const where = and(
    filter.accountId === null ? undefined : eq(disputes.accountId, filter.accountId),
    filter.waitingOnly ? and(isNull(disputeAnswers.disputeId), isNull(invoiceVoids.invoiceId)) : undefined,
    filter.past === null
      ? undefined
      : sql`(${disputes.openedOn}, ${disputes.id}) > (select d.opened_on, d.id from disputes d
          where d.tenant_id = ${tx.tenantId} and d.id = ${filter.past}::uuid)`,
  );
  return selectDisputes(tx, where, filter.limit);
}

/** How many disputes that contacts opened on an invoice wait for an answer. */
export async function countWaitingOfContacts(tx: TenantTransaction, id: InvoiceId): Promise<number> {
  const [row] = await tx
    .select({ count: sql<string>`count(*)` })
    .from(disputes)
    .leftJoin(
      disputeAnswers,
      and(eq(disputeAnswers.tenantId, disputes.tenantId), eq(disputeAnswers.disputeId, disputes.id)),
    )
    .where(
      and(
        eq(disputes.tenantId, tx.tenantId),
        eq(disputes.invoiceId, id),
        eq(disputes.byContact, true),
        isNull(disputeAnswers.disputeId),
      ),
    );
  return Number(row?.count ?? 0);
}

/** The dispute that a credit note answers; null where it answers none. Lock the disputes of its invoice first. */
export async function findDisputeAnsweredBy(
  tx: TenantTransaction,
  id: CreditNoteId,
): Promise<DisputeId | null> {
  const [row] = await tx
    .select({ disputeId: disputeAnswers.disputeId })
    .from(disputeAnswers)
    .where(and(eq(disputeAnswers.tenantId, tx.tenantId), eq(disputeAnswers.creditNoteId, id)))
    .limit(1);
  return row?.disputeId ?? null;
}

/**
 * Of an account, what was answered and it should know of: all that was not agreed to while its invoice is open, and
 * what was credited since a day.
 */
export function listAnsweredDisputes(
  tx: TenantTransaction,
  accountId: AccountId,
  filter: { readonly creditedSince: Day; readonly limit: number },
): Promise<readonly FoundDispute[]> {
  const where = and(
    eq(disputes.accountId, accountId),
    or(
      and(eq(disputeAnswers.answer, 'upheld'), gt(invoiceBalances.openMinor, 0n)),
      and(eq(disputeAnswers.answer, 'credited'), gte(disputeAnswers.answeredOn, filter.creditedSince)),
    ),
  );
  return selectDisputes(tx, where, filter.limit);
}

async function selectDisputes(
  tx: TenantTransaction,
  where: SQL | undefined,
  limit: number,
): Promise<readonly FoundDispute[]> {
  const rows = await tx
    .select({
      dispute: disputes,
      answer: disputeAnswers,
      creditNoteNumber: creditNotes.number,
      accountName: accounts.name,
      invoiceNumber: invoices.number,
      currency: invoices.currency,
      invoiceOpenMinor: invoiceBalances.openMinor,
      lineDescription: sql<string | null>`(select l.description from ${invoiceLines} l
        where l.tenant_id = ${disputes.tenantId} and l.invoice_id = ${disputes.invoiceId}
          and l.line_id = ${disputes.lineId} limit 1)`,
      openedByName: people.name,
      voidedOn: invoiceVoids.voidedOn,
    })
    .from(disputes)
    .innerJoin(invoices, and(eq(invoices.tenantId, disputes.tenantId), eq(invoices.id, disputes.invoiceId)))
    .innerJoin(
      invoiceBalances,
      and(eq(invoiceBalances.tenantId, invoices.tenantId), eq(invoiceBalances.invoiceId, invoices.id)),
    )
    .innerJoin(accounts, and(eq(accounts.tenantId, disputes.tenantId), eq(accounts.id, disputes.accountId)))
    .innerJoin(people, and(eq(people.tenantId, disputes.tenantId), eq(people.id, disputes.openedBy)))
    .leftJoin(
      invoiceVoids,
      and(eq(invoiceVoids.tenantId, disputes.tenantId), eq(invoiceVoids.invoiceId, disputes.invoiceId)),
    )
    .leftJoin(
      disputeAnswers,
      and(eq(disputeAnswers.tenantId, disputes.tenantId), eq(disputeAnswers.disputeId, disputes.id)),
    )
    .leftJoin(
      creditNotes,
      and(eq(creditNotes.tenantId, disputeAnswers.tenantId), eq(creditNotes.id, disputeAnswers.creditNoteId)),
    )
    .where(and(eq(disputes.tenantId, tx.tenantId), where))
    .orderBy(asc(disputes.openedOn), asc(disputes.id))
    .limit(limit);
  return rows.map(({ dispute, answer, creditNoteNumber, ...named }) => ({
    ...dispute,
    ...named,
    answer: answer === null ? null : { ...answer, creditNoteNumber },
  }));
}
