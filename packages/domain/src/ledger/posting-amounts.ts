import type { Day } from '../dates.ts';
import type { AccountId, CreditNoteId, InvoiceId, PaymentId } from '../ids.ts';
import { type JournalEvent, type JournalLine, sumOf } from './journal.ts';

/** What every event of one customer's account tells: whose it is and the day it counts from. */
export interface PartyEvent {
  readonly party: AccountId;
  readonly on: Day;
}

/** Where money stands: at the bank, or with a processor that pays out later. */
export type MoneyPlace = 'bank' | 'clearing';

/** Tax by area and component, in minor units. */
export interface TaxAmount {
  readonly areaCode: string;
  readonly component: string;
  readonly amountMinor: bigint;
}

/** A part of a payment, deposit or credit that settles one invoice. */
export interface AppliedPart {
  readonly invoiceId: InvoiceId;
  readonly amountMinor: bigint;
}

export type References = Pick<JournalLine, 'partyId' | 'invoiceId' | 'paymentId' | 'creditNoteId'>;

/** What holds account credit: a payment that settles less than it is, or a credit note. */
export type CreditSource = { readonly paymentId: PaymentId } | { readonly creditNoteId: CreditNoteId };

/** The references that a line carries; what is not known is left out. */
export function references(of: {
  readonly party?: AccountId;
  readonly invoiceId?: InvoiceId | undefined;
  readonly paymentId?: PaymentId | undefined;
  readonly creditNoteId?: CreditNoteId | undefined;
}): References {
  return {
    ...(of.party === undefined ? {} : { partyId: of.party }),
    ...(of.invoiceId === undefined ? {} : { invoiceId: of.invoiceId }),
    ...(of.paymentId === undefined ? {} : { paymentId: of.paymentId }),
    ...(of.creditNoteId === undefined ? {} : { creditNoteId: of.creditNoteId }),
  };
}

/** Tax payable, one line for each area and component; `side` is 1n for debit, -1n for credit. */
export function taxLines(taxes: readonly TaxAmount[], side: 1n | -1n, refs: References): JournalLine[] {
  return taxes.map((tax) => ({
    account: 'tax_payable',
    amountMinor: side * tax.amountMinor,
    ...refs,
    taxArea: tax.areaCode,
    taxComponent: tax.component,
  }));
}

/** The line that balances the others. */
export function balancing(
  account: JournalLine['account'],
  others: readonly JournalLine[],
  refs: References = {},
): JournalLine {
  return { account, amountMinor: -sumOf(others), ...refs };
}

/** The direction of an event is in its name, so an amount that is not above zero is a caller's mistake. */
export function assertPositive(event: JournalEvent, amountMinor: bigint): void {
  if (amountMinor <= 0n) throw new Error(`${event}: the amount must be above zero, not ${amountMinor}`);
}
