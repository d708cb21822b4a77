import type { PaymentFacts } from '@grainwright/db';
import type { CreditNoteId, Documents, JournalEvent, PaymentId, StatementRow } from '@grainwright/domain';
import { paymentMethods } from '../billing/payment-view.ts';

/** What rows of statements are named by. */
export interface RowNames {
  readonly documents: Documents;
  readonly payments: ReadonlyMap<PaymentId, PaymentFacts>;
  readonly creditNotes: ReadonlyMap<CreditNoteId, string>;
}

/** What a row is: “Invoice”, “Payment by check”. */
export function rowWords(row: StatementRow, names: RowNames): string {
  const words = eventWords[row.event] ?? '';
  const payment = paymentOf(row, names);
  if (payment === undefined || !namesMethod.has(row.event)) return words;
  const { method } = payment;
  return method === 'moved' || method === 'brought_forward' ? words : `${words} by ${paymentMethods[method]}`;
}

/** The number or reference that a row goes by; may be empty. */
export function rowDocument(row: StatementRow, names: RowNames): string {
  const creditNote = row.creditNoteIds.map((id) => names.creditNotes.get(id)).find(isThere);
  const invoice = row.invoiceIds.map((id) => names.documents.get(id)?.number).find(isThere);
  return creditNote ?? invoice ?? paymentOf(row, names)?.reference ?? '';
}

function paymentOf(row: StatementRow, { payments }: RowNames): PaymentFacts | undefined {
  return row.paymentIds.map((id) => payments.get(id)).find(isThere);
}

function isThere<T>(value: T | undefined): value is T {
  return value !== undefined;
}

/** How it was paid is part of what it is. */
const namesMethod: ReadonlySet<JournalEvent> = new Set([
  'payment_received',
  'payment_returned',
  'unknown_receipt_assigned',
]);

/** Every event that a statement tells. The others move nothing in it. */
const eventWords: Readonly<Partial<Record<JournalEvent, string>>> = {
  invoice_issued: 'Invoice',
  invoice_voided: 'Invoice voided',
  return_fee_charged: 'Fee for a returned payment',
  late_charge_charged: 'Late charge',
  opening_balance: 'Brought forward',
  credit_note_issued: 'Credit note',
  discount_taken: 'Discount for paying early',
  written_off: 'Written off',
  write_off_recovered: 'Write-off taken back',
  payment_received: 'Payment',
  payment_returned: 'Returned payment',
  deposit_applied: 'Deposit applied',
  deposit_unapplied: 'Deposit taken off again',
  credit_refunded: 'Refund',
  credit_moved: 'Credit moved',
  unknown_receipt_assigned: 'Payment',
};
