import {
  type AccountId,
  type Day,
  type Documents,
  type Instant,
  type JournalEntry,
  type JournalEntryId,
  type JournalLine,
  type LedgerAccountCode,
  type MonthMovement,
  month,
  type PersonId,
  type PostedEntry,
} from '@grainwright/domain';
import { and, asc, eq, inArray, lte, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoices, journalEntries, journalLines } from '../schema/billing.ts';

export interface EntryToPost {
  readonly id: JournalEntryId;
  readonly posting: bigint;
  readonly currency: string;
  readonly postedBy: PersonId;
  readonly postedAt: Instant;
  readonly entry: JournalEntry;
}

/** Writes entries and all their lines in two statements. The database checks at commit that each balances. */
export async function insertEntries(tx: TenantTransaction, posted: readonly EntryToPost[]): Promise<void> {
  await tx.insert(journalEntries).values(
    posted.map(({ entry: { event, occurredOn }, ...own }) => ({
      tenantId: tx.tenantId,
      ...own,
      event,
      occurredOn,
    })),
  );
  await tx
    .insert(journalLines)
    .values(
      posted.flatMap(({ id, entry }) => entry.lines.map((line, index) => lineRow(tx, id, line, index))),
    );
}

function lineRow(tx: TenantTransaction, entryId: JournalEntryId, line: JournalLine, index: number) {
  return {
    tenantId: tx.tenantId,
    entryId,
    position: index + 1,
    ledgerAccount: line.account,
    amountMinor: line.amountMinor,
    accountId: line.partyId ?? null,
    invoiceId: line.invoiceId ?? null,
    paymentId: line.paymentId ?? null,
    creditNoteId: line.creditNoteId ?? null,
    taxArea: line.taxArea ?? null,
    taxComponent: line.taxComponent ?? null,
  };
}

/** The ledger accounts through which the books know where a customer stands. */
const partyAccounts = [
  'receivables',
  'account_credit',
  'deposits_held',
] as const satisfies readonly LedgerAccountCode[];

/**
 * Every entry that moves what an account owes or has in credit, from the first one on, in the order of posting.
 * Of its lines only those of the account's receivables, credit and deposits are given.
 */
export async function listAccountEntries(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly PostedEntry[]> {
  const rows = await tx
    .select({
      posting: journalEntries.posting,
      event: journalEntries.event,
      occurredOn: journalEntries.occurredOn,
      line: journalLines,
    })
    .from(journalLines)
    .innerJoin(
      journalEntries,
      and(eq(journalEntries.tenantId, journalLines.tenantId), eq(journalEntries.id, journalLines.entryId)),
    )
    .where(
      and(
        eq(journalLines.tenantId, tx.tenantId),
        eq(journalLines.accountId, accountId),
        inArray(journalLines.ledgerAccount, [...partyAccounts]),
      ),
    )
    .orderBy(asc(journalEntries.posting), asc(journalLines.position));
  const byPosting = Map.groupBy(rows, (row) => row.posting);
  return [...byPosting].flatMap(([sequence, lines]) => {
    const [first] = lines;
    if (first === undefined) return [];
    const { event, occurredOn } = first;
    return [{ sequence, event, occurredOn, lines: lines.map((row) => lineOf(row.line)) }];
  });
}

/**
 * What moved an account's receivables and credit from a month's first day through a day, summed by month, event and
 * ledger account, and what did before as one month that is null. As many rows as there are kinds of movements,
 * however long the ledger is.
 */
export async function sumMovementsByMonth(
  tx: TenantTransaction,
  accountId: AccountId,
  from: Day,
  through: Day,
): Promise<readonly MonthMovement[]> {
  const inMonth = sql<string | null>`case when ${journalEntries.occurredOn} >= ${from}::date
    then to_char(${journalEntries.occurredOn}, 'YYYY-MM') end`;
  const rows = await tx
    .select({
      month: inMonth,
      event: journalEntries.event,
      account: journalLines.ledgerAccount,
      amount: sql<string>`sum(${journalLines.amountMinor})`,
    })
    .from(journalLines)
    .innerJoin(
      journalEntries,
      and(eq(journalEntries.tenantId, journalLines.tenantId), eq(journalEntries.id, journalLines.entryId)),
    )
    .where(
      and(
        eq(journalLines.tenantId, tx.tenantId),
        eq(journalLines.accountId, accountId),
        inArray(journalLines.ledgerAccount, ['receivables', 'account_credit']),
        lte(journalEntries.occurredOn, through),
      ),
    )
    .groupBy(sql`1`, journalEntries.event, journalLines.ledgerAccount);
  return rows.map(({ amount, ...row }) => ({
    ...row,
    month: row.month === null ? null : month(row.month),
    amountMinor: BigInt(amount),
  }));
}

function lineOf(row: typeof journalLines.$inferSelect): JournalLine {
  return {
    account: row.ledgerAccount,
    amountMinor: row.amountMinor,
    ...(row.accountId === null ? {} : { partyId: row.accountId }),
    ...(row.invoiceId === null ? {} : { invoiceId: row.invoiceId }),
    ...(row.paymentId === null ? {} : { paymentId: row.paymentId }),
    ...(row.creditNoteId === null ? {} : { creditNoteId: row.creditNoteId }),
    ...(row.taxArea === null ? {} : { taxArea: row.taxArea }),
    ...(row.taxComponent === null ? {} : { taxComponent: row.taxComponent }),
  };
}

/** What an account's documents say of themselves, for aging. */
export async function listDocumentFacts(tx: TenantTransaction, accountId: AccountId): Promise<Documents> {
  const rows = await tx
    .select({
      id: invoices.id,
      number: invoices.number,
      issuedOn: invoices.issuedOn,
      dueOn: invoices.dueOn,
    })
    .from(invoices)
    .where(and(eq(invoices.tenantId, tx.tenantId), eq(invoices.accountId, accountId)));
  return new Map(rows.map(({ id, ...facts }) => [id, facts]));
}

/** Debits less credits of every ledger account. */
export async function sumsByLedgerAccount(
  tx: TenantTransaction,
): Promise<readonly { readonly account: LedgerAccountCode; readonly amountMinor: bigint }[]> {
  const rows = await tx
    .select({ account: journalLines.ledgerAccount, amount: sql<string>`sum(${journalLines.amountMinor})` })
    .from(journalLines)
    .where(eq(journalLines.tenantId, tx.tenantId))
    .groupBy(journalLines.ledgerAccount)
    .orderBy(asc(journalLines.ledgerAccount));
  return rows.map(({ account, amount }) => ({ account, amountMinor: BigInt(amount) }));
}
