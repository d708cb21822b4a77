import type { Day } from '../dates.ts';
import type { AccountId, CreditNoteId, PaymentId } from '../ids.ts';
import { type JournalEntry, type JournalEvent, type JournalLine, journalEntry } from './journal.ts';
import {
  type AppliedPart,
  assertPositive,
  balancing,
  type CreditSource,
  type MoneyPlace,
  type PartyEvent,
  references,
} from './posting-amounts.ts';

/** Money of one payment; `paymentId` is made by the client and names it for good. */
export interface MovedMoney extends PartyEvent {
  readonly paymentId: PaymentId;
  readonly amountMinor: bigint;
  readonly place: MoneyPlace;
}

/** Bank or clearing against account credit: received money settles nothing until it is applied. */
export function paymentReceived(payment: MovedMoney): JournalEntry {
  return moneyIn('payment_received', payment, 'account_credit');
}

/** Bank or clearing against deposits held: a debt to the customer until there is an invoice. */
export function depositReceived(deposit: MovedMoney): JournalEntry {
  return moneyIn('deposit_received', deposit, 'deposits_held');
}

/** Parts of a payment, or of a deposit, and the invoices they settle. */
export interface PaymentApplication extends PartyEvent {
  readonly paymentId: PaymentId;
  readonly parts: readonly AppliedPart[];
}

/** Account credit against receivables, by invoice. It moves nothing in the account's balance. */
export function paymentApplied(application: PaymentApplication): JournalEntry {
  return applied('payment_applied', application, 'account_credit', 1n);
}

/** Takes an application back: the invoices reopen, the money is account credit again. */
export function paymentUnapplied(application: PaymentApplication): JournalEntry {
  return applied('payment_unapplied', application, 'account_credit', -1n);
}

/** Deposits held against receivables, by invoice: the deposit becomes a payment of the account. */
export function depositAppliedToInvoice(application: PaymentApplication): JournalEntry {
  return applied('deposit_applied', application, 'deposits_held', 1n);
}

/** Takes back a deposit's application, as before its invoice is voided. */
export function depositUnapplied(application: PaymentApplication): JournalEntry {
  return applied('deposit_unapplied', application, 'deposits_held', -1n);
}

/** A payment or deposit that came back. `applied` is what it settles at that moment; it may be nothing. */
export interface ReturnedMoney extends MovedMoney {
  readonly applied: readonly AppliedPart[];
}

/**
 * A returned payment in two steps, both on the day of the return: what it had settled reopens, then the
 * account credit goes back to the bank or clearing. The first step is left out when nothing was applied.
 */
export function paymentReturned(payment: ReturnedMoney): readonly JournalEntry[] {
  const returned = moneyOut('payment_returned', payment, 'account_credit');
  const reopened = paymentUnapplied({ ...payment, parts: payment.applied });
  return reopened.lines.length === 0 ? [returned] : [reopened, returned];
}

/** A returned deposit, in the same two steps. */
export function depositReturned(deposit: ReturnedMoney): readonly JournalEntry[] {
  const returned = moneyOut('deposit_returned', deposit, 'deposits_held');
  const reopened = depositUnapplied({ ...deposit, parts: deposit.applied });
  return reopened.lines.length === 0 ? [returned] : [reopened, returned];
}

/** Account credit of a payment or credit note, paid back to the customer. */
export function refunded(
  refund: PartyEvent & CreditSource & { readonly amountMinor: bigint; readonly place: MoneyPlace },
): JournalEntry {
  return moneyOut('credit_refunded', refund, 'account_credit');
}

/** A deposit given back, less a fee that is kept. `amountMinor` is the deposit, the fee a part of it. */
export function depositRefunded(refund: MovedMoney & { readonly feeKeptMinor: bigint }): JournalEntry {
  assertPositive('deposit_refunded', refund.amountMinor);
  if (refund.feeKeptMinor < 0n || refund.feeKeptMinor > refund.amountMinor)
    throw new Error(`deposit_refunded: a fee of ${refund.feeKeptMinor} out of ${refund.amountMinor}`);
  const refs = references(refund);
  return journalEntry('deposit_refunded', refund.on, [
    { account: 'deposits_held', amountMinor: refund.amountMinor, ...refs },
    { account: refund.place, amountMinor: refund.feeKeptMinor - refund.amountMinor, ...refs },
    { account: 'fee_income', amountMinor: -refund.feeKeptMinor, ...refs },
  ]);
}

/** Money whose payer is not known yet: bank or clearing against unassigned receipts. */
export function receiptOfUnknownPayer(receipt: Omit<MovedMoney, 'party' | 'paymentId'>): JournalEntry {
  return moneyIn('unknown_receipt_received', receipt, 'unassigned_receipts');
}

/** The payer is known: unassigned receipts against the account's credit, on the day it was found out. */
export function receiptAssigned(receipt: Omit<MovedMoney, 'place'>): JournalEntry {
  assertPositive('unknown_receipt_assigned', receipt.amountMinor);
  const refs = references(receipt);
  return journalEntry('unknown_receipt_assigned', receipt.on, [
    { account: 'unassigned_receipts', amountMinor: receipt.amountMinor, ...refs },
    { account: 'account_credit', amountMinor: -receipt.amountMinor, ...refs },
  ]);
}

/** Credit that goes from one account of a group to another. */
export interface MovedCredit {
  readonly from: AccountId;
  readonly to: AccountId;
  readonly on: Day;
  readonly amountMinor: bigint;
  readonly source: CreditSource;
  /** What holds the credit at the other account. */
  readonly paymentId: PaymentId;
}

/** Account credit of one against account credit of the other. */
export function creditMoved(move: MovedCredit): JournalEntry {
  assertPositive('credit_moved', move.amountMinor);
  const given = references({ party: move.from, ...move.source });
  const taken = references({ party: move.to, paymentId: move.paymentId });
  return journalEntry('credit_moved', move.on, [
    { account: 'account_credit', amountMinor: move.amountMinor, ...given },
    { account: 'account_credit', amountMinor: -move.amountMinor, ...taken },
  ]);
}

/** What the processor keeps for itself: fees against clearing. */
export function processorFee(fee: {
  readonly on: Day;
  readonly amountMinor: bigint;
  readonly paymentId?: PaymentId;
}): JournalEntry {
  assertPositive('processor_fee_charged', fee.amountMinor);
  const refs = references({ paymentId: fee.paymentId });
  return journalEntry('processor_fee_charged', fee.on, [
    { account: 'processor_fees', amountMinor: fee.amountMinor, ...refs },
    { account: 'clearing', amountMinor: -fee.amountMinor, ...refs },
  ]);
}

/** What the processor pays out: bank against clearing. */
export function payout(paid: { readonly on: Day; readonly amountMinor: bigint }): JournalEntry {
  assertPositive('payout_received', paid.amountMinor);
  return journalEntry('payout_received', paid.on, [
    { account: 'bank', amountMinor: paid.amountMinor },
    { account: 'clearing', amountMinor: -paid.amountMinor },
  ]);
}

type MoneyHolder = 'account_credit' | 'deposits_held' | 'unassigned_receipts';
interface Moved extends Pick<MovedMoney, 'on' | 'amountMinor' | 'place'> {
  readonly party?: AccountId;
  readonly paymentId?: PaymentId;
  readonly creditNoteId?: CreditNoteId;
}

function moneyIn(event: JournalEvent, moved: Moved, holder: MoneyHolder): JournalEntry {
  return journalEntry(event, moved.on, movedLines(event, moved, moved.place, holder));
}

function moneyOut(event: JournalEvent, moved: Moved, holder: MoneyHolder): JournalEntry {
  return journalEntry(event, moved.on, movedLines(event, moved, holder, moved.place));
}

function movedLines(
  event: JournalEvent,
  moved: Moved,
  debit: JournalLine['account'],
  credit: JournalLine['account'],
): JournalLine[] {
  assertPositive(event, moved.amountMinor);
  return [
    { account: debit, amountMinor: moved.amountMinor, ...references(moved) },
    { account: credit, amountMinor: -moved.amountMinor, ...references(moved) },
  ];
}

function applied(
  event: JournalEvent,
  application: PaymentApplication,
  holder: 'account_credit' | 'deposits_held',
  direction: 1n | -1n,
): JournalEntry {
  const settled = application.parts.map((part): JournalLine => {
    assertPositive(event, part.amountMinor);
    const refs = references({ ...application, invoiceId: part.invoiceId });
    return { account: 'receivables', amountMinor: -direction * part.amountMinor, ...refs };
  });
  const { party, paymentId } = application;
  return journalEntry(event, application.on, [
    balancing(holder, settled, references({ party, paymentId })),
    ...settled,
  ]);
}
