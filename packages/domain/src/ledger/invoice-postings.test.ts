import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { type AccountId, type CreditNoteId, type InvoiceId, toId } from '../ids.ts';
import {
  creditApplied,
  creditNoteIssued,
  discountTaken,
  feeCharged,
  invoiceIssued,
  invoiceVoided,
  openingBalance,
  recovered,
  writtenOff,
} from './invoice-postings.ts';
import type { JournalEntry } from './journal.ts';

const party: AccountId = toId('00000000-0000-7000-8000-0000000000a1');
const invoiceId: InvoiceId = toId('00000000-0000-7000-8000-000000002020');
const otherInvoiceId: InvoiceId = toId('00000000-0000-7000-8000-000000002021');
const creditNoteId: CreditNoteId = toId('00000000-0000-7000-8000-000000003001');
const on = day('2026-10-14');
const noTax = { taxes: [] };

// INV-2020 of the demo: labor 416.48 and after-hours 121.64, materials 70.09, tax 3.50 + 0.88, total 612.59.
const invoice = {
  party,
  invoiceId,
  on,
  laborMinor: 53812n,
  materialsMinor: 7009n,
  tripMinor: 0n,
  feeMinor: 0n,
  taxes: [
    { areaCode: 'kestrel_valley', component: 'state', amountMinor: 350n },
    { areaCode: 'kestrel_valley', component: 'local', amountMinor: 88n },
  ],
};

test('an invoice is receivables against revenue by class and tax by area and component', () => {
  const entry = invoiceIssued(invoice);
  expect(moves(entry)).toEqual([
    ['receivables', 61259n],
    ['revenue_labor', -53812n],
    ['revenue_materials', -7009n],
    ['tax_payable', -350n],
    ['tax_payable', -88n],
  ]);
  expect(entry.lines[3]).toMatchObject({ taxArea: 'kestrel_valley', taxComponent: 'state' });
  expect(entry.lines.every((line) => line.partyId === party && line.invoiceId === invoiceId)).toBe(true);
});

test('trip charges and fees have revenue of their own', () => {
  // INV-2011 of the demo: 213.20 + 45.13 + 45.00 + 55.00 = 358.33.
  const classes = { laborMinor: 21320n, materialsMinor: 4513n, tripMinor: 4500n, feeMinor: 5500n };
  expect(moves(invoiceIssued({ ...invoice, ...classes, ...noTax }))).toEqual([
    ['receivables', 35833n],
    ['revenue_labor', -21320n],
    ['revenue_materials', -4513n],
    ['revenue_trip', -4500n],
    ['revenue_fee', -5500n],
  ]);
});

test('an invoice below zero is a mistake', () => {
  expect(() => invoiceIssued({ ...invoice, laborMinor: -9_000_000n })).toThrow('credit note');
});

test('a void takes back every line of the invoice, on its own day', () => {
  const voided = invoiceVoided({ ...invoice, on: day('2026-10-20') });
  expect(voided).toMatchObject({ event: 'invoice_voided', occurredOn: '2026-10-20' });
  expect(moves(voided)).toEqual(
    moves(invoiceIssued(invoice)).map(([account, amountMinor]) => [account, -amountMinor]),
  );
});

test('a credit note takes back revenue and tax and becomes account credit, which then settles the invoice', () => {
  // CN-3001 of the demo: 93.75 of repairs, of which materials 11.25, 23.43 after-hours, tax 0.56 + 0.14.
  const note = {
    ...{
      party,
      creditNoteId,
      invoiceId,
      on,
      tripMinor: 0n,
      feeMinor: 0n,
      laborMinor: 10593n,
      materialsMinor: 1125n,
    },
    taxes: [
      { areaCode: 'kestrel_valley', component: 'state', amountMinor: 56n },
      { areaCode: 'kestrel_valley', component: 'local', amountMinor: 14n },
    ],
  };
  expect(moves(creditNoteIssued(note))).toEqual([
    ['revenue_labor', 10593n],
    ['revenue_materials', 1125n],
    ['tax_payable', 56n],
    ['tax_payable', 14n],
    ['account_credit', -11788n],
  ]);
  const applied = creditApplied({ party, on, creditNoteId, parts: [{ invoiceId, amountMinor: 11788n }] });
  expect(moves(applied)).toEqual([
    ['account_credit', 11788n],
    ['receivables', -11788n],
  ]);
  expect(applied.lines.map((line) => line.creditNoteId ?? line.invoiceId)).toEqual([creditNoteId, invoiceId]);
});

test('a credit of tax alone is a credit note too', () => {
  // CN-3002 of the demo: 2.94 + 0.74 = 3.68, after a certificate came in.
  const taxes = [
    { areaCode: 'kestrel_valley', component: 'state', amountMinor: 294n },
    { areaCode: 'kestrel_valley', component: 'local', amountMinor: 74n },
  ];
  const none = { laborMinor: 0n, materialsMinor: 0n, tripMinor: 0n, feeMinor: 0n };
  expect(moves(creditNoteIssued({ party, creditNoteId, invoiceId, on, ...none, taxes }))).toEqual([
    ['tax_payable', 294n],
    ['tax_payable', 74n],
    ['account_credit', -368n],
  ]);
});

test('return fees and late charges are receivables against fee income', () => {
  const fee = { party, on, invoiceId, amountMinor: 2500n };
  const lines = [
    ['receivables', 2500n],
    ['fee_income', -2500n],
  ];
  const returned = feeCharged({ ...fee, kind: 'return_fee' });
  expect([returned.event, moves(returned)]).toEqual(['return_fee_charged', lines]);
  const late = feeCharged({ ...fee, kind: 'late_charge' });
  expect([late.event, moves(late)]).toEqual(['late_charge_charged', lines]);
});

test('an early-payment discount settles the rest that the payment left', () => {
  // OpenStax, Principles of Accounting vol. 1, chapter 6: 336 of 16,800 at 2/10.
  expect(moves(discountTaken({ party, on, invoiceId, amountMinor: 33_600n }))).toEqual([
    ['discounts', 33_600n],
    ['receivables', -33_600n],
  ]);
});

test('a write-off is a bad debt, less the tax that the policy reclaims; a recovery turns it round', () => {
  const loss = { party, on, invoiceId, amountMinor: 6375n };
  const taxes = [{ areaCode: 'port_orrin', component: 'state', amountMinor: 329n }];
  expect(moves(writtenOff({ ...loss, taxes: [] }))).toEqual([
    ['bad_debts', 6375n],
    ['receivables', -6375n],
  ]);
  expect(moves(writtenOff({ ...loss, taxes }))).toEqual([
    ['bad_debts', 6046n],
    ['receivables', -6375n],
    ['tax_payable', 329n],
  ]);
  expect(moves(recovered({ ...loss, taxes }))).toEqual([
    ['bad_debts', -6046n],
    ['receivables', 6375n],
    ['tax_payable', -329n],
  ]);
  expect(() => writtenOff({ ...loss, amountMinor: 300n, taxes })).toThrow('tax is more than the amount');
});

test('opening balances are receivables by document, less credit brought along, against opening equity', () => {
  const items = [
    { invoiceId, amountMinor: 7000n },
    { invoiceId: otherInvoiceId, amountMinor: 500n },
  ];
  expect(moves(openingBalance({ party, on, items, accountCreditMinor: 1200n }))).toEqual([
    ['receivables', 7000n],
    ['receivables', 500n],
    ['account_credit', -1200n],
    ['opening_equity', -6300n],
  ]);
});

test.each([0n, -1n])(
  'an amount of %s in an event whose name says the direction is a mistake',
  (amountMinor) => {
    const part = { party, on, invoiceId, amountMinor };
    expect(() => feeCharged({ ...part, kind: 'late_charge' })).toThrow('above zero');
    expect(() => discountTaken(part)).toThrow('above zero');
    expect(() => writtenOff({ ...part, taxes: [] })).toThrow('above zero');
    expect(() => creditApplied({ party, on, creditNoteId, parts: [part] })).toThrow('above zero');
    expect(() => openingBalance({ party, on, items: [part], accountCreditMinor: 0n })).toThrow('above zero');
  },
);

function moves(entry: JournalEntry): [string, bigint][] {
  return entry.lines.map((line) => [line.account, line.amountMinor]);
}
