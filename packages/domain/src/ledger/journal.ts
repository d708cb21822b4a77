import type { Day } from '../dates.ts';
import type { AccountId, CreditNoteId, InvoiceId, PaymentId } from '../ids.ts';
import { sumMinor } from '../money/money.ts';
import type { LedgerAccountCode } from './chart.ts';

/** Every business event that moves money or debt, in one closed list. */
export const journalEvents = [
  'invoice_issued',
  'invoice_voided',
  'credit_note_issued',
  'credit_applied',
  'credit_moved',
  'payment_received',
  'payment_applied',
  'payment_unapplied',
  'payment_returned',
  'deposit_received',
  'deposit_applied',
  'deposit_unapplied',
  'deposit_returned',
  'deposit_refunded',
  'discount_taken',
  'return_fee_charged',
  'late_charge_charged',
  'written_off',
  'write_off_recovered',
  'credit_refunded',
  'unknown_receipt_received',
  'unknown_receipt_assigned',
  'opening_balance',
  'processor_fee_charged',
  'payout_received',
] as const;
export type JournalEvent = (typeof journalEvents)[number];

export interface JournalLine {
  readonly account: LedgerAccountCode;
  /** Debit positive, credit negative. */
  readonly amountMinor: bigint;
  /** The customer's account; always there on receivables, account credit and deposits held. */
  readonly partyId?: AccountId;
  /**
   * On receivables the document whose open amount the line moves: an invoice, or the document of a fee or an
   * opening balance, which ages and is paid like one. Elsewhere the invoice that caused it.
   */
  readonly invoiceId?: InvoiceId;
  readonly paymentId?: PaymentId;
  /** The credit note that gave the credit, or took revenue and tax back. */
  readonly creditNoteId?: CreditNoteId;
  readonly taxArea?: string;
  readonly taxComponent?: string;
}

/** One business event in double entry. Its lines sum to zero and none of them is zero. */
export interface JournalEntry {
  readonly event: JournalEvent;
  readonly occurredOn: Day;
  readonly lines: readonly JournalLine[];
}

/** An entry as it stands in the journal. `sequence` is its place in the tenant's order of posting. */
export interface PostedEntry extends JournalEntry {
  readonly sequence: bigint;
}

/**
 * Makes an entry of the lines, leaving out those of zero. Throws when the lines do not sum to zero or one of
 * them lacks the party or document without which balances and open items could not be drawn from the journal.
 */
export function journalEntry(
  event: JournalEvent,
  occurredOn: Day,
  lines: readonly JournalLine[],
): JournalEntry {
  const moving = lines.filter((line) => line.amountMinor !== 0n);
  if (!balanced(moving)) throw new Error(`${event}: the lines sum to ${sumOf(moving)}, not to zero`);
  for (const line of moving) assertAttributed(event, line);
  return { event, occurredOn, lines: moving };
}

/** True when debits equal credits. */
export function balanced(lines: readonly JournalLine[]): boolean {
  return sumOf(lines) === 0n;
}

/** Debits less credits of the lines, in minor units. */
export function sumOf(lines: readonly JournalLine[]): bigint {
  return sumMinor(lines.map((line) => line.amountMinor));
}

const ofAParty: ReadonlySet<LedgerAccountCode> = new Set(['receivables', 'account_credit', 'deposits_held']);

function assertAttributed(event: JournalEvent, line: JournalLine): void {
  if (ofAParty.has(line.account) && line.partyId === undefined)
    throw new Error(`${event}: a line of ${line.account} names no party`);
  if (line.account === 'receivables' && line.invoiceId === undefined)
    throw new Error(`${event}: a line of receivables names no invoice`);
}
