import type { AccountId, CreditNoteId, InvoiceId, PaymentId } from '../ids.ts';
import { type JournalEntry, type JournalEvent, type JournalLine, journalEntry } from './journal.ts';
import {
  type AppliedPart,
  assertPositive,
  balancing,
  type PartyEvent,
  type References,
  references,
  type TaxAmount,
  taxLines,
} from './posting-amounts.ts';

/** The money of an invoice by line class, and its tax; all in minor units. */
export interface ChargedAmounts {
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
  readonly tripMinor: bigint;
  readonly feeMinor: bigint;
  readonly taxes: readonly TaxAmount[];
}

/** An invoice; its total is the sum of the classes and the taxes. */
export interface IssuedInvoice extends PartyEvent, ChargedAmounts {
  readonly invoiceId: InvoiceId;
}

/** Receivables against revenue by class and tax by area and component. Throws on a total below zero. */
export function invoiceIssued(invoice: IssuedInvoice): JournalEntry {
  const earned = chargedLines(invoice, documentOf(invoice), -1n);
  const receivable = balancing('receivables', earned, documentOf(invoice));
  if (receivable.amountMinor < 0n)
    throw new Error(`invoice_issued: the total is ${receivable.amountMinor}; a credit note is for that`);
  return journalEntry('invoice_issued', invoice.on, [receivable, ...earned]);
}

/** Takes back a whole invoice on the day of the void. What had settled it is un-applied first. */
export function invoiceVoided(invoice: IssuedInvoice): JournalEntry {
  const issued = invoiceIssued(invoice);
  const reversed = issued.lines.map((line) => ({ ...line, amountMinor: -line.amountMinor }));
  return journalEntry('invoice_voided', invoice.on, reversed);
}

/** A credit note: what it takes back by class and tax, each amount positive where revenue goes down. */
export interface IssuedCreditNote extends PartyEvent, ChargedAmounts {
  readonly creditNoteId: CreditNoteId;
  /** The invoice that it lowers. */
  readonly invoiceId: InvoiceId;
}

/**
 * Revenue and tax against account credit; `creditApplied` then settles the invoice. One class may go up
 * while the credit as a whole goes down, as when a smaller repair has the larger share of materials.
 */
export function creditNoteIssued(note: IssuedCreditNote): JournalEntry {
  const { party, creditNoteId } = note;
  const takenBack = chargedLines(note, references(note), 1n);
  const credit = balancing('account_credit', takenBack, references({ party, creditNoteId }));
  assertPositive('credit_note_issued', -credit.amountMinor);
  return journalEntry('credit_note_issued', note.on, [...takenBack, credit]);
}

/** Credit of a credit note, used to settle invoices: account credit against receivables. */
export function creditApplied(
  application: PartyEvent & { readonly creditNoteId: CreditNoteId; readonly parts: readonly AppliedPart[] },
): JournalEntry {
  const settled = application.parts.map((part) => settledLine('credit_applied', application, part));
  const used = balancing(
    'account_credit',
    settled,
    references({ party: application.party, creditNoteId: application.creditNoteId }),
  );
  return journalEntry('credit_applied', application.on, [used, ...settled]);
}

/** A charge of its own document, which ages and is paid like an invoice. */
export interface ChargedFee extends PartyEvent, AppliedPart {
  readonly kind: 'return_fee' | 'late_charge';
}

/** A fee for a returned payment, or a late charge: receivables against fee income. */
export function feeCharged(fee: ChargedFee): JournalEntry {
  const event = fee.kind === 'return_fee' ? 'return_fee_charged' : 'late_charge_charged';
  assertPositive(event, fee.amountMinor);
  return journalEntry(event, fee.on, [
    { account: 'receivables', amountMinor: fee.amountMinor, ...documentOf(fee) },
    { account: 'fee_income', amountMinor: -fee.amountMinor, ...documentOf(fee) },
  ]);
}

/** An early-payment discount that settles a part of an invoice: discounts against receivables. */
export function discountTaken(discount: PartyEvent & AppliedPart): JournalEntry {
  const settled = settledLine('discount_taken', discount, discount);
  return journalEntry('discount_taken', discount.on, [
    balancing('discounts', [settled], documentOf(discount)),
    settled,
  ]);
}

/** What is given up of an invoice. `taxes` is the share of tax that the tenant's policy reclaims; often none. */
export interface WriteOff extends PartyEvent, AppliedPart {
  readonly taxes: readonly TaxAmount[];
}

/** Bad debts, and tax payable where the policy says so, against receivables. A small difference is one too. */
export function writtenOff(loss: WriteOff): JournalEntry {
  return journalEntry('written_off', loss.on, writeOffLines('written_off', loss));
}

/** A written-off amount that is to be paid after all: the write-off turned round, on the day of recovery. */
export function recovered(recovery: WriteOff): JournalEntry {
  const lines = writeOffLines('write_off_recovered', recovery);
  return journalEntry(
    'write_off_recovered',
    recovery.on,
    lines.map((line) => ({ ...line, amountMinor: -line.amountMinor })),
  );
}

/** What a customer owed, and had in credit, when the books were opened here. */
export interface OpeningBalance extends PartyEvent {
  readonly items: readonly AppliedPart[];
  readonly accountCreditMinor: bigint;
  /** The payment brought forward that holds the credit; where there is credit. */
  readonly paymentId?: PaymentId;
}

/** Receivables (and account credit brought along) against opening equity. */
export function openingBalance(opening: OpeningBalance): JournalEntry {
  const owed = opening.items.map((item): JournalLine => {
    assertPositive('opening_balance', item.amountMinor);
    const refs = references({ party: opening.party, invoiceId: item.invoiceId });
    return { account: 'receivables', amountMinor: item.amountMinor, ...refs };
  });
  if (opening.accountCreditMinor < 0n) throw new Error('opening_balance: account credit is below zero');
  const credit: JournalLine = {
    account: 'account_credit',
    amountMinor: -opening.accountCreditMinor,
    ...references(opening),
  };
  const brought = [...owed, credit];
  return journalEntry('opening_balance', opening.on, [
    ...brought,
    balancing('opening_equity', brought, { partyId: opening.party }),
  ]);
}

interface PartyDocument {
  readonly party: AccountId;
  readonly invoiceId: InvoiceId;
}

function documentOf(of: PartyDocument) {
  return references({ party: of.party, invoiceId: of.invoiceId });
}

function chargedLines(amounts: ChargedAmounts, refs: References, side: 1n | -1n): JournalLine[] {
  return [
    { account: 'revenue_labor', amountMinor: side * amounts.laborMinor, ...refs },
    { account: 'revenue_materials', amountMinor: side * amounts.materialsMinor, ...refs },
    { account: 'revenue_trip', amountMinor: side * amounts.tripMinor, ...refs },
    { account: 'revenue_fee', amountMinor: side * amounts.feeMinor, ...refs },
    ...taxLines(amounts.taxes, side, refs),
  ];
}

function settledLine(event: JournalEvent, of: PartyEvent, part: AppliedPart): JournalLine {
  assertPositive(event, part.amountMinor);
  const refs = references({ party: of.party, invoiceId: part.invoiceId });
  return { account: 'receivables', amountMinor: -part.amountMinor, ...refs };
}

function writeOffLines(event: JournalEvent, loss: WriteOff): JournalLine[] {
  const reclaimed = [settledLine(event, loss, loss), ...taxLines(loss.taxes, 1n, documentOf(loss))];
  const bad = balancing('bad_debts', reclaimed, documentOf(loss));
  if (bad.amountMinor < 0n) throw new Error(`${event}: the tax is more than the amount`);
  return [bad, ...reclaimed];
}
