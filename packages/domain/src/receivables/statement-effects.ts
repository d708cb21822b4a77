import type { LedgerAccountCode } from '../ledger/chart.ts';
import type { JournalEvent } from '../ledger/journal.ts';

/** The three ways in which something can move the balance. */
export type StatementRowKind = 'charge' | 'credit' | 'payment';

type Effect = { readonly kind: StatementRowKind; readonly moves: readonly LedgerAccountCode[] } | null;

/**
 * How each event is told, and the accounts it moves the balance through; null where it moves nothing in it.
 * An event that touches the balance in another way makes the rows differ from the ledger.
 */
export const statementEffects: Readonly<Record<JournalEvent, Effect>> = {
  invoice_issued: { kind: 'charge', moves: ['receivables'] },
  invoice_voided: { kind: 'charge', moves: ['receivables'] },
  return_fee_charged: { kind: 'charge', moves: ['receivables'] },
  late_charge_charged: { kind: 'charge', moves: ['receivables'] },
  opening_balance: { kind: 'charge', moves: ['receivables', 'account_credit'] },
  credit_note_issued: { kind: 'credit', moves: ['account_credit'] },
  discount_taken: { kind: 'credit', moves: ['receivables'] },
  written_off: { kind: 'credit', moves: ['receivables'] },
  write_off_recovered: { kind: 'credit', moves: ['receivables'] },
  payment_received: { kind: 'payment', moves: ['account_credit'] },
  payment_returned: { kind: 'payment', moves: ['account_credit'] },
  deposit_applied: { kind: 'payment', moves: ['receivables'] },
  deposit_unapplied: { kind: 'payment', moves: ['receivables'] },
  credit_refunded: { kind: 'payment', moves: ['account_credit'] },
  credit_moved: { kind: 'payment', moves: ['account_credit'] },
  unknown_receipt_assigned: { kind: 'payment', moves: ['account_credit'] },
  payment_applied: null,
  payment_unapplied: null,
  credit_applied: null,
  deposit_received: null,
  deposit_returned: null,
  deposit_refunded: null,
  unknown_receipt_received: null,
  processor_fee_charged: null,
  payout_received: null,
};
