import { describe, expect, test } from 'vitest';
import { addDays, day } from '../dates.ts';
import { type InvoiceId, type PaymentId, toId } from '../ids.ts';
import { creditApplied, creditNoteIssued } from '../ledger/invoice-postings.ts';
import type { JournalEntry } from '../ledger/journal.ts';
import { paymentApplied } from '../ledger/payment-postings.ts';
import { type Aging, type AgingBucket, age, agingBuckets, agingSpans, type OpenItemFacts } from './aging.ts';
import {
  cents,
  type DemoAccount,
  demoAccount,
  demoAccounts,
  demoCreditNote,
  demoDocuments,
  demoInvoice,
  demoJournal,
} from './demo-receivables.ts';
import { creditMovementsOf, openItemsOf } from './open-items.ts';

// The demo's aging by due date: account, current, 1–30, 31–60, 61–90, over 90, unapplied, balance.
// Invented; computed by one program and recomputed to the cent by a second one.
const printed = {
  '2026-08-31': `
    BG 0.00 0.00 0.00 0.00 0.00 0.00 0.00
    UF 0.00 472.37 0.00 0.00 0.00 0.00 472.37
    PL 207.25 0.00 0.00 0.00 0.00 0.00 207.25
    HD 396.01 0.00 0.00 0.00 0.00 0.00 396.01
    DR 363.17 0.00 0.00 0.00 0.00 0.00 363.17
    TR 521.08 0.00 0.00 0.00 0.00 0.00 521.08
    RW 0.00 0.00 0.00 0.00 0.00 0.00 0.00
    total 1,487.51 472.37 0.00 0.00 0.00 0.00 1,959.88`,
  '2026-09-30': `
    BG 170.70 0.00 0.00 0.00 0.00 -73.22 97.48
    UF 0.00 0.00 63.75 0.00 0.00 0.00 63.75
    PL 242.45 0.00 0.00 0.00 0.00 0.00 242.45
    HD 337.88 0.00 0.00 0.00 0.00 0.00 337.88
    DR 265.45 0.00 0.00 0.00 0.00 0.00 265.45
    TR 242.68 0.00 0.00 0.00 0.00 -78.92 163.76
    RW 0.00 0.00 0.00 0.00 0.00 0.00 0.00
    total 1,259.16 0.00 63.75 0.00 0.00 -152.14 1,170.77`,
  '2026-10-31': `
    BG 0.00 0.00 0.00 0.00 0.00 -123.22 -123.22
    UF 0.00 190.64 0.00 63.75 0.00 0.00 254.39
    PL 0.00 773.24 0.00 0.00 0.00 0.00 773.24
    HD 491.03 0.00 0.00 0.00 0.00 0.00 491.03
    DR 0.00 265.45 0.00 0.00 0.00 0.00 265.45
    TR 0.00 242.68 0.00 0.00 0.00 -78.92 163.76
    RW 0.00 0.00 0.00 0.00 0.00 0.00 0.00
    total 491.03 1,472.01 0.00 63.75 0.00 -202.14 1,824.65`,
};

test.each(Object.entries(printed))('the demo ages as printed, to the cent, on %s', (asOf, table) => {
  const figures = demoAccounts.map((key) => figuresOf(demoAging(key, asOf)));
  const totals = figures.reduce((sum, row) => row.map((minor, column) => minor + (sum[column] ?? 0n)));
  const rows = [...demoAccounts.map((key, index) => [key, figures[index]]), ['total', totals]];
  expect(rows).toEqual(
    table
      .trim()
      .split('\n')
      .map((line) => line.trim().split(' '))
      .map(([name, ...amounts]) => [name, amounts.map(cents)]),
  );
});

test('the demo has 2,026.79 open on October 31, in six invoices, oldest due first', () => {
  const items = demoAccounts
    .flatMap((key) => demoAging(key, '2026-10-31').items)
    .toSorted((a, b) => Date.parse(a.dueOn) - Date.parse(b.dueOn));
  // The demo's check values.
  expect(items.map((item) => [item.number, item.openMinor])).toEqual([
    ['INV-2004', cents('63.75')],
    ['INV-2015', cents('242.68')],
    ['INV-2012', cents('265.45')],
    ['INV-2019', cents('773.24')],
    ['INV-2018', cents('190.64')],
    ['INV-2020', cents('491.03')],
  ]);
  expect(items.reduce((sum, item) => sum + item.openMinor, 0n)).toBe(cents('2,026.79'));
});

test('a returned check reopens its invoice, which ages from its original due date', () => {
  expect(demoAging('RW', '2026-08-18').items).toEqual([]);
  // Returned August 19; INV-2005 was due at pickup, August 12, so it is 7 days past due at once.
  const [reopened] = demoAging('RW', '2026-08-19').items;
  expect(reopened).toMatchObject({
    number: 'INV-2005',
    openMinor: cents('210.69'),
    daysPastDue: 7,
    bucket: 'days_1_30',
  });
  expect(demoAging('RW', '2026-08-24').balanceMinor).toBe(0n);
});

test('a deposit older than its invoice is no part of the balance until the invoice takes it', () => {
  expect(demoAging('RW', '2026-08-11').balanceMinor).toBe(0n);
  expect(demoAging('RW', '2026-08-12').balanceMinor).toBe(0n);
});

test('unapplied cash, once applied to the oldest invoice, leaves the balance as it was', () => {
  // The demo's check values: TR ages as 163.76 in 1–30 with nothing unapplied.
  const application = paymentApplied({
    party: demoAccount('TR'),
    on: day('2026-10-31'),
    paymentId: toId<PaymentId>('00000000-0000-7000-8000-0000000b5001'),
    parts: [{ invoiceId: demoInvoice('INV-2015'), amountMinor: cents('78.92') }],
  });
  const { buckets, unappliedMinor, balanceMinor } = demoAging('TR', '2026-10-31', [application]);
  expect([buckets.days_1_30, unappliedMinor, balanceMinor]).toEqual([cents('163.76'), 0n, cents('163.76')]);
});

test('a credit note of more than is open leaves its rest as account credit', () => {
  // The demo's check values: 67.88 credited to UF in November (63.75 and 4.13 of tax), 63.75 of it applied.
  const credit = { party: demoAccount('UF'), on: day('2026-11-03'), creditNoteId: demoCreditNote('CN-3003') };
  const taxes = [{ areaCode: 'port_orrin', component: 'state', amountMinor: cents('4.13') }];
  const classes = { laborMinor: cents('63.75'), materialsMinor: 0n, tripMinor: 0n, feeMinor: 0n, taxes };
  const parts = [{ invoiceId: demoInvoice('INV-2004'), amountMinor: cents('63.75') }];
  const entries = [
    creditNoteIssued({ ...credit, ...classes, invoiceId: demoInvoice('INV-2004') }),
    creditApplied({ ...credit, parts }),
  ];
  expect(demoAging('UF', '2026-10-31', entries).buckets.days_61_90).toBe(cents('63.75'));
  const november = demoAging('UF', '2026-11-30', entries);
  expect(november.items.map((item) => item.number)).toEqual(['INV-2018']);
  expect(november.unappliedMinor).toBe(cents('-4.13'));
});

describe('buckets', () => {
  // Common practice, no source: the last day of a bucket belongs to it.
  test.each([
    ['2026-03-01', 0, 'current'],
    ['2026-03-31', 0, 'current'],
    ['2026-04-01', 1, 'days_1_30'],
    ['2026-04-30', 30, 'days_1_30'],
    ['2026-05-01', 31, 'days_31_60'],
    ['2026-05-30', 60, 'days_31_60'],
    ['2026-05-31', 61, 'days_61_90'],
    ['2026-06-29', 90, 'days_61_90'],
    ['2026-06-30', 91, 'over_90'],
  ])('due March 31, seen on %s: %i days past due, %s', (asOf, daysPastDue, bucket) => {
    const [item] = agingOf(asOf, [invoice(100n, '2026-03-01', '2026-03-31')]).items;
    expect(item).toMatchObject({ daysPastDue, bucket });
  });

  test('by document date an invoice ages from its issue, and is still told not past due', () => {
    const facts = [invoice(100n, '2026-03-01', '2026-03-31')];
    const aging = age({ asOf: day('2026-03-31'), basis: 'document_date', items: facts, credits: [] });
    expect(aging.items[0]).toMatchObject({ daysPastDue: 0, bucket: 'days_1_30' });
  });

  test('a published aging adds up: 0–30, 31–90 and over 90 days come to the receivables', () => {
    // OpenStax, Principles of Accounting vol. 1, section 9.2: 145,740 + 102,100 + 77,010 = 324,850 dollars.
    const { buckets, balanceMinor } = age({
      asOf: day('2026-12-31'),
      basis: 'document_date',
      items: [
        invoice(14_574_000n, '2026-12-31', '2027-01-30'),
        invoice(10_000_000n, '2026-11-15', '2026-12-15'),
        invoice(210_000n, '2026-10-02', '2026-11-01'),
        invoice(7_701_000n, '2026-10-01', '2026-10-31'),
      ],
      credits: [],
    });
    expect(buckets.current + buckets.days_1_30).toBe(14_574_000n);
    expect(buckets.days_31_60 + buckets.days_61_90).toBe(10_210_000n);
    expect(buckets.over_90).toBe(7_701_000n);
    expect(balanceMinor).toBe(32_485_000n);
  });
});

describe('as of a day', () => {
  test('only what is dated on or before it counts', () => {
    const item: OpenItemFacts = {
      ...invoice(500n, '2026-03-05', '2026-03-20'),
      settlements: [
        { on: day('2026-03-10'), amountMinor: 200n },
        { on: day('2026-03-15'), amountMinor: 300n },
        { on: day('2026-03-18'), amountMinor: -300n },
      ],
    };
    const open = (asOf: string) => agingOf(asOf, [item]).balanceMinor;
    const days = ['2026-03-04', '2026-03-05', '2026-03-10', '2026-03-15', '2026-03-18'];
    expect(days.map(open)).toEqual([0n, 500n, 300n, 0n, 300n]);
  });

  test('an invoice brought along from older books counts from its posting and ages from its own date', () => {
    const item = { ...invoice(500n, '2026-01-05', '2026-01-20'), postedOn: day('2026-03-01') };
    expect(agingOf('2026-02-28', [item]).items).toEqual([]);
    expect(agingOf('2026-03-01', [item]).items[0]).toMatchObject({ daysPastDue: 40, bucket: 'days_31_60' });
  });

  test('unapplied credit is shown negative, apart from the buckets', () => {
    const credits = [
      { on: day('2026-03-02'), amountMinor: 700n },
      { on: day('2026-03-03'), amountMinor: -150n },
      { on: day('2026-03-09'), amountMinor: -550n },
    ];
    const items = [invoice(500n, '2026-03-01', '2026-03-31')];
    const aging = age({ asOf: day('2026-03-08'), basis: 'due_date', items, credits });
    expect(aging).toMatchObject({ unappliedMinor: -550n, balanceMinor: -50n, buckets: { current: 500n } });
  });
});

test('the span of a bucket holds just the days that fall into it, so that each day falls into one', () => {
  const asOf = day('2026-10-31');
  for (let ago = -40; ago <= 130; ago += 1) {
    const due = addDays(asOf, -ago);
    const holding = agingSpans(asOf).filter(
      (span) => (span.from === null || span.from <= due) && (span.to === null || due <= span.to),
    );
    const [item] = agingOf('2026-10-31', [invoice(100n, '2026-01-01', due)]).items;
    expect([ago, holding.map((span) => span.bucket)]).toEqual([ago, [item?.bucket]]);
  }
});

function demoAging(key: DemoAccount, asOf: string, later: readonly JournalEntry[] = []): Aging {
  const party = demoAccount(key);
  const journal = [...demoJournal(), ...later];
  return age({
    asOf: day(asOf),
    basis: 'due_date',
    items: openItemsOf(journal, party, demoDocuments),
    credits: creditMovementsOf(journal, party),
  });
}

function figuresOf({ buckets, unappliedMinor, balanceMinor }: Aging): readonly bigint[] {
  return [...agingBuckets.map((bucket: AgingBucket) => buckets[bucket]), unappliedMinor, balanceMinor];
}

function agingOf(asOf: string, items: readonly OpenItemFacts[]): Aging {
  return age({ asOf: day(asOf), basis: 'due_date', items, credits: [] });
}

function invoice(amountMinor: bigint, issuedOn: string, dueOn: string): OpenItemFacts {
  const invoiceId: InvoiceId = toId('00000000-0000-7000-8000-000000000001');
  return {
    invoiceId,
    number: 'INV-1',
    issuedOn: day(issuedOn),
    dueOn: day(dueOn),
    postedOn: day(issuedOn),
    amountMinor,
    settlements: [],
  };
}
