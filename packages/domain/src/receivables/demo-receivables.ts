import { type Day, day } from '../dates.ts';
import { type AccountId, type CreditNoteId, type InvoiceId, type PaymentId, toId } from '../ids.ts';
import { creditApplied, creditNoteIssued, invoiceIssued } from '../ledger/invoice-postings.ts';
import type { JournalEntry, PostedEntry } from '../ledger/journal.ts';
import {
  depositAppliedToInvoice,
  depositReceived,
  paymentApplied,
  paymentReceived,
  paymentReturned,
} from '../ledger/payment-postings.ts';
import { parseMinor } from '../money/money.ts';
import type { DocumentFacts } from './open-items.ts';

/**
 * The demo business's three months of receivables, as figures that tests measure by. Invented throughout;
 * computed by one program and recomputed to the cent by a second one written apart from it.
 */

// number, account, issued, due, labor with after-hours, materials, trip, fee, state tax, local tax
const invoices = `
INV-2001 PL 2026-08-03 2026-08-13 309.43 48.35  0.00  0.00  0.00 0.00
INV-2002 BG 2026-08-05 2026-08-20 214.91 23.52 45.00  0.00  1.18 0.29
INV-2003 HD 2026-08-07 2026-09-06 123.75 16.88 45.00  0.00  0.00 0.00
INV-2004 UF 2026-08-11 2026-08-26 548.42 73.92  9.00  0.00 34.72 6.31
INV-2005 RW 2026-08-12 2026-08-12 270.67 39.83  0.00  0.00 17.08 3.11
INV-2006 DR 2026-08-14 2026-09-13 266.98 29.02 45.00  0.00 18.76 3.41
INV-2007 TR 2026-08-18 2026-09-02 444.43 70.65  6.00  0.00  0.00 0.00
INV-2008 PL 2026-08-21 2026-08-31 137.91 24.34 45.00  0.00  0.00 0.00
INV-2009 HD 2026-08-26 2026-09-25 143.61 21.77 45.00  0.00  0.00 0.00
INV-2010 BG 2026-09-01 2026-09-16 343.60 35.93 45.00  0.00  1.80 0.45
INV-2011 PL 2026-09-03 2026-09-13 213.20 45.13 45.00 55.00  0.00 0.00
INV-2012 DR 2026-09-09 2026-10-09 176.04 28.21 45.00  0.00 13.71 2.49
INV-2013 RW 2026-09-11 2026-09-11 148.50 16.50  0.00  0.00  9.08 1.65
INV-2014 HD 2026-09-15 2026-10-15 263.01 29.87 45.00  0.00  0.00 0.00
INV-2015 TR 2026-09-17 2026-10-02 171.12 20.56 51.00  0.00  0.00 0.00
INV-2016 PL 2026-09-22 2026-10-02 173.76 23.69 45.00  0.00  0.00 0.00
INV-2017 BG 2026-09-29 2026-10-14 113.78 11.22 45.00  0.00  0.56 0.14
INV-2018 UF 2026-10-02 2026-10-17 112.25 12.75 54.00  0.00  9.85 1.79
INV-2019 PL 2026-10-06 2026-10-16 679.01 94.23  0.00  0.00  0.00 0.00
INV-2020 HD 2026-10-14 2026-11-13 538.12 70.09  0.00  0.00  3.50 0.88
INV-2021 RW 2026-10-20 2026-10-20 133.20 16.80  0.00  0.00  8.25 1.50`;

// reference, account, date, kind, amount, then each invoice with what of it was settled; RW-2 came back as a whole
const receipts = `
RW-1 RW 2026-08-10 deposit  120.00 INV-2005:120.00
UF-1 UF 2026-08-11 deposit  200.00 INV-2004:200.00
RW-2 RW 2026-08-12 check    210.69 INV-2005:210.69
PL-1 PL 2026-08-13 check    357.78 INV-2001:357.78
RW-2 RW 2026-08-19 returned 210.69 INV-2005:210.69
BG-1 BG 2026-08-20 card     284.90 INV-2002:284.90
RW-3 RW 2026-08-24 card     210.69 INV-2005:210.69
TR-1 TR 2026-09-01 check    600.00 INV-2007:521.08
HD-1 HD 2026-09-04 ach      185.63 INV-2003:185.63
UF-2 UF 2026-09-10 check    408.62 INV-2004:408.62
RW-4 RW 2026-09-11 card     175.73 INV-2013:175.73
PL-2 PL 2026-09-12 check    565.58 INV-2008:207.25 INV-2011:358.33
DR-1 DR 2026-09-14 ach      363.17 INV-2006:363.17
BG-2 BG 2026-09-18 check    500.00 INV-2010:426.78
HD-2 HD 2026-09-25 ach      210.38 INV-2009:210.38
PL-3 PL 2026-10-05 check    242.45 INV-2016:242.45
HD-3 HD 2026-10-15 ach      337.88 INV-2014:337.88
BG-3 BG 2026-10-16 ach      220.70 INV-2017:170.70
RW-5 RW 2026-10-20 card     159.75 INV-2021:159.75`;

// number, account, date, labor with after-hours, materials, state tax, local tax; both applied to INV-2020
const creditNotes = `
CN-3001 HD 2026-10-21 105.93 11.25 0.56 0.14
CN-3002 HD 2026-10-26   0.00  0.00 2.94 0.74`;

export const demoAccounts = ['BG', 'UF', 'PL', 'HD', 'DR', 'TR', 'RW'] as const;
export type DemoAccount = (typeof demoAccounts)[number];

export const demoDocuments: ReadonlyMap<InvoiceId, DocumentFacts> = new Map([
  ...rowsOf(invoices).map((row): [InvoiceId, DocumentFacts] => [
    demoInvoice(cell(row, 0)),
    { number: cell(row, 0), issuedOn: day(cell(row, 2)), dueOn: day(cell(row, 3)) },
  ]),
  ...rowsOf(creditNotes).map((row): [InvoiceId, DocumentFacts] => [
    demoInvoice(cell(row, 0)),
    { number: cell(row, 0), issuedOn: day(cell(row, 2)), dueOn: day(cell(row, 2)) },
  ]),
]);

/** The demo's journal in the order of its days. */
export function demoJournal(): readonly PostedEntry[] {
  return [
    ...rowsOf(invoices).map(issuedInvoice),
    ...rowsOf(receipts).flatMap(receivedMoney),
    ...rowsOf(creditNotes).flatMap(issuedCredit),
  ]
    .toSorted((a, b) => Date.parse(a.occurredOn) - Date.parse(b.occurredOn))
    .map((entry, index) => ({ ...entry, sequence: BigInt(index + 1) }));
}

export function demoAccount(key: DemoAccount): AccountId {
  return toId(`00000000-0000-7000-8000-0000000000a${demoAccounts.indexOf(key)}`);
}

/** The id of an invoice by its number, e.g. `INV-2001`. */
export function demoInvoice(number: string): InvoiceId {
  return toId(`00000000-0000-7000-8000-00000000${number.slice(-4)}`);
}

/** The id of a credit note by its number, e.g. `CN-3001`. */
export function demoCreditNote(number: string): CreditNoteId {
  return toId(`00000000-0000-7000-8000-00000000${number.slice(-4)}`);
}

/** Minor units of an amount as printed, e.g. `1,824.65`. */
export function cents(text: string): bigint {
  const parsed = parseMinor(text.replaceAll(',', ''), { allowNegative: true });
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}

function issuedInvoice(row: readonly string[]): JournalEntry {
  return invoiceIssued({
    ...partyOf(row),
    invoiceId: demoInvoice(cell(row, 0)),
    laborMinor: cents(cell(row, 4)),
    materialsMinor: cents(cell(row, 5)),
    tripMinor: cents(cell(row, 6)),
    feeMinor: cents(cell(row, 7)),
    taxes: taxesOf(row, 8),
  });
}

function issuedCredit(row: readonly string[]): readonly JournalEntry[] {
  const of = { ...partyOf(row), creditNoteId: demoCreditNote(cell(row, 0)) };
  const taxes = taxesOf(row, 5);
  const laborMinor = cents(cell(row, 3));
  const materialsMinor = cents(cell(row, 4));
  const amountMinor = taxes.reduce((sum, tax) => sum + tax.amountMinor, laborMinor + materialsMinor);
  return [
    creditNoteIssued({
      ...of,
      invoiceId: demoInvoice('INV-2020'),
      laborMinor,
      materialsMinor,
      tripMinor: 0n,
      feeMinor: 0n,
      taxes,
    }),
    creditApplied({ ...of, parts: [{ invoiceId: demoInvoice('INV-2020'), amountMinor }] }),
  ];
}

function receivedMoney(row: readonly string[]): readonly JournalEntry[] {
  const kind = cell(row, 3);
  const parts = row.slice(5).map(appliedPart);
  const paymentId: PaymentId = toId(
    `00000000-0000-7000-8000-0000000b${partyKeyIndex(cell(row, 1))}00${cell(row, 0).slice(-1)}`,
  );
  const { party, on } = partyOf(row);
  const money = { party, on, paymentId, amountMinor: cents(cell(row, 4)) };
  if (kind === 'returned') return paymentReturned({ ...money, place: 'bank', applied: parts });
  if (kind === 'deposit') {
    const applied = parts.map((part) =>
      depositAppliedToInvoice({ ...money, on: issueDayOf(part.invoiceId), parts: [part] }),
    );
    return [depositReceived({ ...money, place: 'bank' }), ...applied];
  }
  const place = kind === 'card' ? 'clearing' : 'bank';
  return [paymentReceived({ ...money, place }), paymentApplied({ ...money, parts })];
}

function appliedPart(text: string): { invoiceId: InvoiceId; amountMinor: bigint } {
  const [number = '', amount = ''] = text.split(':');
  return { invoiceId: demoInvoice(number), amountMinor: cents(amount) };
}

function issueDayOf(invoiceId: InvoiceId): Day {
  const document = demoDocuments.get(invoiceId);
  if (document === undefined) throw new Error(`no demo invoice ${invoiceId}`);
  return document.issuedOn;
}

function partyOf(row: readonly string[]): { readonly party: AccountId; readonly on: Day } {
  return { party: demoAccount(accountKey(cell(row, 1))), on: day(cell(row, 2)) };
}

function accountKey(text: string): DemoAccount {
  const key = demoAccounts.find((account) => account === text);
  if (key === undefined) throw new Error(`no demo account ${text}`);
  return key;
}

function partyKeyIndex(text: string): number {
  return demoAccounts.indexOf(accountKey(text));
}

/** Umbral, Dunmore and the walk-ins are taxed where everything is taxable, the others where materials are. */
function taxesOf(row: readonly string[], from: number) {
  const areaCode = ['UF', 'DR', 'RW'].includes(cell(row, 1)) ? 'port_orrin' : 'kestrel_valley';
  return [
    { areaCode, component: 'state', amountMinor: cents(cell(row, from)) },
    { areaCode, component: 'local', amountMinor: cents(cell(row, from + 1)) },
  ];
}

function rowsOf(table: string): readonly (readonly string[])[] {
  return table
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/));
}

function cell(row: readonly string[], index: number): string {
  const text = row[index];
  if (text === undefined) throw new Error(`no column ${index} in ${row.join(' ')}`);
  return text;
}
