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
import { and, asc, desc, eq, inArray, lte, sql } from 'drizzle-orm';
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
 * Every entry that moves what these accounts owe or have in credit, by account, from the first one on, in the order of
 * posting. Of its lines only those of the account's receivables, credit and deposits are given.
 */
export async function listEntriesOfAccounts(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
): Promise<ReadonlyMap<AccountId, readonly PostedEntry[]>> {
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
        inArray(journalLines.accountId, [...accountIds]),
        inArray(journalLines.ledgerAccount, [...partyAccounts]),
      ),
    )
    .orderBy(asc(journalEntries.posting), asc(journalLines.position));
  const byAccount = Map.groupBy(rows, (row) => row.line.accountId);
  return new Map(accountIds.map((id) => [id, entriesOf(byAccount.get(id) ?? [])]));
}

interface EntryLineRow extends Pick<PostedEntry, 'event' | 'occurredOn'> {
  readonly posting: bigint;
  readonly line: typeof journalLines.$inferSelect;
}

function entriesOf(rows: readonly EntryLineRow[]): readonly PostedEntry[] {
  return [...Map.groupBy(rows, (row) => row.posting)].flatMap(([sequence, lines]) => {
    const [first] = lines;
    if (first === undefined) return [];
    const { event, occurredOn } = first;
    return [{ sequence, event, occurredOn, lines: lines.map((row) => lineOf(row.line)) }];
  });
}

/** The last posting of the business. Postings are committed in their order, so all before it are there as well. */
export async function findLastPosting(tx: TenantTransaction): Promise<bigint> {
  const [row] = await tx
    .select({ posting: journalEntries.posting })
    .from(journalEntries)
    .where(eq(journalEntries.tenantId, tx.tenantId))
    .orderBy(desc(journalEntries.posting))
    .limit(1);
  return row?.posting ?? 0n;
}

/** Which movements are summed, and which of them are one sum without a month. */
export interface MovementSpan {
  /** The first day of the first month that is told apart. */
  readonly from: Day;
  readonly through: Day;
  /** Nothing posted later; null: everything there is. */
  readonly throughPosting: bigint | null;
  /**
   * The statement before, by its last day and its posting: what it told has no month, and what was posted later counts
   * from `from` on, whatever its date. Null where none was issued: then what is dated before `from` has no month.
   */
  readonly told: { readonly through: Day; readonly posting: bigint } | null;
}

/**
 * What moved an account's receivables and credit, summed by the month whose statement tells it, by event and by ledger
 * account. As many rows as there are kinds of movements, however long the ledger is.
 */
export async function sumMovementsByMonth(
  tx: TenantTransaction,
  accountId: AccountId,
  { from, through, throughPosting, told }: MovementSpan,
): Promise<readonly MonthMovement[]> {
  const { occurredOn, posting } = journalEntries;
  const before =
    told === null
      ? sql`${occurredOn} < ${from}::date`
      : sql`${occurredOn} <= ${told.through}::date and ${posting} <= ${told.posting}::bigint`;
  const inMonth = sql<string | null>`case when ${before} then null
    else to_char(greatest(${occurredOn}, ${from}::date), 'YYYY-MM') end`;
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
        lte(occurredOn, through),
        throughPosting === null ? undefined : lte(posting, throughPosting),
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

/** What the documents of these accounts say of themselves, for aging. */
export async function listDocumentsOfAccounts(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
): Promise<Documents> {
  const rows = await tx
    .select({
      id: invoices.id,
      number: invoices.number,
      issuedOn: invoices.issuedOn,
      dueOn: invoices.dueOn,
    })
    .from(invoices)
    .where(and(eq(invoices.tenantId, tx.tenantId), inArray(invoices.accountId, [...accountIds])));
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
