import { type Day, firstDay, lastDay, type Month } from '../dates.ts';
import type { AccountId, CreditNoteId, InvoiceId, PaymentId } from '../ids.ts';
import type { LedgerAccountCode } from '../ledger/chart.ts';
import { type JournalEvent, type JournalLine, type PostedEntry, sumOf } from '../ledger/journal.ts';
import { sumMinor } from '../money/money.ts';
import { type Aging, type AgingBasis, age } from './aging.ts';
import { creditMovementsOf, type Documents, openItemsOf } from './open-items.ts';
import { type StatementRowKind, statementEffects } from './statement-effects.ts';

export interface StatementRow {
  readonly on: Day;
  readonly sequence: bigint;
  readonly event: JournalEvent;
  readonly kind: StatementRowKind;
  /** What it does to the balance: positive raises it. */
  readonly amountMinor: bigint;
  /** The documents and payments it names, without repetition. */
  readonly invoiceIds: readonly InvoiceId[];
  readonly paymentIds: readonly PaymentId[];
  readonly creditNoteIds: readonly CreditNoteId[];
}

/** The frozen statement before this one: what it covered is not told again. */
export interface PreviousStatement {
  readonly month: Month;
  readonly throughSequence: bigint;
}

export interface StatementInput {
  readonly party: AccountId;
  readonly month: Month;
  /** The posting at which the statement is cut: nothing posted later is in it, whatever its date. */
  readonly throughSequence: bigint;
  readonly previous: PreviousStatement | null;
  /** All entries that touch the account, from the first one on, in any order. */
  readonly entries: readonly PostedEntry[];
  readonly documents: Documents;
  readonly basis: AgingBasis;
  /** The day it is aged to: the month's last unless given, and today while the month runs. */
  readonly asOf?: Day;
}

/** An account's month. `openingMinor + chargesMinor − creditsMinor − paymentsMinor = closingMinor`. */
export interface Statement {
  readonly party: AccountId;
  readonly month: Month;
  readonly throughSequence: bigint;
  readonly openingMinor: bigint;
  readonly rows: readonly StatementRow[];
  /** Invoices, fees, late charges and opening balances, less what was voided. */
  readonly chargesMinor: bigint;
  /** Credit notes, discounts and write-offs, less recoveries. */
  readonly creditsMinor: bigint;
  /** Receipts and deposits applied, less returns and refunds; credit moved in, less moved out. */
  readonly paymentsMinor: bigint;
  /** Receivables less account credit. */
  readonly closingMinor: bigint;
  /** Open items, buckets and unapplied credit on the day it is aged to. */
  readonly aging: Aging;
  /** Deposits that wait for their invoice: a debt to the customer, outside the balance. */
  readonly depositsHeldMinor: bigint;
}

/**
 * Builds the statement of a month from the account's journal. What was posted after the previous statement
 * was cut but is dated before its end is told in this one. The closing balance is computed three times (from
 * the rows, from the ledger's lines, from the open items), and any difference throws.
 */
export function buildStatement(input: StatementInput): Statement {
  const end = lastDay(input.month);
  const cut = input.entries.filter((entry) => entry.sequence <= input.throughSequence);
  const entries = cut.filter((entry) => entry.occurredOn <= end).toSorted(inOrder);
  const told = Map.groupBy(entries, toldBefore(input));
  const openingMinor = balanceOf(told.get(true) ?? [], input.party);
  const rows = (told.get(false) ?? []).flatMap((entry) => statementRow(entry, input.party));
  const statement: Statement = {
    party: input.party,
    month: input.month,
    throughSequence: input.throughSequence,
    openingMinor,
    rows,
    chargesMinor: totalOf('charge', rows),
    creditsMinor: -totalOf('credit', rows),
    paymentsMinor: -totalOf('payment', rows),
    closingMinor: balanceOf(entries, input.party),
    aging: agingOf(cut, input),
    depositsHeldMinor: -sumOf(partyLines(entries, input.party, ['deposits_held'])),
  };
  assertProven(statement);
  return statement;
}

/** Was it on an earlier statement, or, where there is none, before the month? */
function toldBefore({ previous, month }: StatementInput): (entry: PostedEntry) => boolean {
  const start = firstDay(month);
  if (previous === null) return (entry) => entry.occurredOn < start;
  const previousEnd = lastDay(previous.month);
  return (entry) => entry.occurredOn <= previousEnd && entry.sequence <= previous.throughSequence;
}

function statementRow(entry: PostedEntry, party: AccountId): readonly StatementRow[] {
  const effect = statementEffects[entry.event];
  if (effect === null) return [];
  const lines = partyLines([entry], party, effect.moves);
  if (lines.length === 0) return [];
  return [
    {
      on: entry.occurredOn,
      sequence: entry.sequence,
      event: entry.event,
      kind: effect.kind,
      amountMinor: sumOf(lines),
      invoiceIds: distinct(lines.map((line) => line.invoiceId)),
      paymentIds: distinct(lines.map((line) => line.paymentId)),
      creditNoteIds: distinct(lines.map((line) => line.creditNoteId)),
    },
  ];
}

function balanceOf(entries: readonly PostedEntry[], party: AccountId): bigint {
  return sumOf(partyLines(entries, party, ['receivables', 'account_credit']));
}

function partyLines(
  entries: readonly PostedEntry[],
  party: AccountId,
  accounts: readonly LedgerAccountCode[],
): readonly JournalLine[] {
  return entries.flatMap((entry) =>
    entry.lines.filter((line) => line.partyId === party && accounts.includes(line.account)),
  );
}

/** Of all that is in the cut: an invoice dated after what was set off against it must be known here as well. */
function agingOf(cut: readonly PostedEntry[], input: StatementInput): Aging {
  return age({
    asOf: input.asOf ?? lastDay(input.month),
    basis: input.basis,
    items: openItemsOf(cut, input.party, input.documents),
    credits: creditMovementsOf(cut, input.party),
  });
}

function totalOf(kind: StatementRowKind, rows: readonly StatementRow[]): bigint {
  return sumMinor(rows.filter((row) => row.kind === kind).map((row) => row.amountMinor));
}

function assertProven(statement: Statement): void {
  const { openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor, aging } = statement;
  const toldMinor = openingMinor + chargesMinor - creditsMinor - paymentsMinor;
  if (toldMinor !== closingMinor)
    throw new Error(`the statement's rows lead to ${toldMinor}, the ledger stands at ${closingMinor}`);
  if (aging.balanceMinor !== closingMinor)
    throw new Error(`the open items come to ${aging.balanceMinor}, the ledger stands at ${closingMinor}`);
}

function distinct<T>(values: readonly (T | undefined)[]): readonly T[] {
  return [...new Set(values.filter((value) => value !== undefined))];
}

function inOrder(a: PostedEntry, b: PostedEntry): number {
  if (a.occurredOn !== b.occurredOn) return a.occurredOn < b.occurredOn ? -1 : 1;
  return a.sequence < b.sequence ? -1 : a.sequence > b.sequence ? 1 : 0;
}
