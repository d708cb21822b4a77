import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { type AccountId, type InvoiceId, type PaymentId, toId } from '../ids.ts';
import type { JournalEntry } from './journal.ts';
import {
  creditMoved,
  depositAppliedToInvoice,
  depositReceived,
  depositRefunded,
  depositReturned,
  depositUnapplied,
  paymentApplied,
  paymentReceived,
  paymentReturned,
  paymentUnapplied,
  payout,
  processorFee,
  receiptAssigned,
  receiptOfUnknownPayer,
  refunded,
} from './payment-postings.ts';

const party: AccountId = toId('00000000-0000-7000-8000-0000000000a1');
const sister: AccountId = toId('00000000-0000-7000-8000-0000000000a2');
const paymentId: PaymentId = toId('00000000-0000-7000-8000-0000000000b1');
const sisterPaymentId: PaymentId = toId('00000000-0000-7000-8000-0000000000b2');
const first: InvoiceId = toId('00000000-0000-7000-8000-000000002008');
const second: InvoiceId = toId('00000000-0000-7000-8000-000000002011');
const on = day('2026-09-12');
const of = { party, paymentId, on };

// PL's check of 565.58 in the demo, on INV-2008 (207.25) and INV-2011 (358.33).
const check = { ...of, amountMinor: 56558n, place: 'bank' } as const;
const parts = [
  { invoiceId: first, amountMinor: 20725n },
  { invoiceId: second, amountMinor: 35833n },
];

test('a payment is account credit until it is applied', () => {
  expect(moves(paymentReceived(check))).toEqual([
    ['bank', 56558n],
    ['account_credit', -56558n],
  ]);
  expect(moves(paymentReceived({ ...check, place: 'clearing' }))[0]).toEqual(['clearing', 56558n]);
});

test('an applied payment settles receivables by invoice, and every line names the payment', () => {
  const entry = paymentApplied({ ...of, parts });
  expect(moves(entry)).toEqual([
    ['account_credit', 56558n],
    ['receivables', -20725n],
    ['receivables', -35833n],
  ]);
  expect(entry.lines.map((line) => line.invoiceId)).toEqual([undefined, first, second]);
  expect(entry.lines.every((line) => line.paymentId === paymentId && line.partyId === party)).toBe(true);
});

test('un-applying turns an application round', () => {
  expect(moves(paymentUnapplied({ ...of, parts }))).toEqual([
    ['account_credit', -56558n],
    ['receivables', 20725n],
    ['receivables', 35833n],
  ]);
});

test('a returned payment first reopens what it had settled, then leaves the bank', () => {
  const entries = paymentReturned({ ...check, on: day('2026-09-20'), applied: parts });
  expect(entries.map((entry) => [entry.event, entry.occurredOn, moves(entry)])).toEqual([
    [
      'payment_unapplied',
      '2026-09-20',
      [
        ['account_credit', -56558n],
        ['receivables', 20725n],
        ['receivables', 35833n],
      ],
    ],
    [
      'payment_returned',
      '2026-09-20',
      [
        ['account_credit', 56558n],
        ['bank', -56558n],
      ],
    ],
  ]);
});

test('a returned payment that had settled nothing only leaves the bank', () => {
  expect(paymentReturned({ ...check, applied: [] }).map((entry) => entry.event)).toEqual([
    'payment_returned',
  ]);
  expect(depositReturned({ ...check, applied: [] }).map((entry) => entry.event)).toEqual([
    'deposit_returned',
  ]);
});

test('a deposit is held, then settles its invoice, and can come back from either', () => {
  // RW's deposit of 120.00 in the demo.
  const deposit = { ...of, amountMinor: 12000n, place: 'bank' } as const;
  const part = { invoiceId: first, amountMinor: 12000n };
  expect(moves(depositReceived(deposit))).toEqual([
    ['bank', 12000n],
    ['deposits_held', -12000n],
  ]);
  expect(moves(depositAppliedToInvoice({ ...of, parts: [part] }))).toEqual([
    ['deposits_held', 12000n],
    ['receivables', -12000n],
  ]);
  expect(moves(depositUnapplied({ ...of, parts: [part] }))).toEqual([
    ['deposits_held', -12000n],
    ['receivables', 12000n],
  ]);
  expect(depositReturned({ ...deposit, applied: [part] }).map(moves)).toEqual([
    [
      ['deposits_held', -12000n],
      ['receivables', 12000n],
    ],
    [
      ['deposits_held', 12000n],
      ['bank', -12000n],
    ],
  ]);
});

test('a refund of credit leaves the bank', () => {
  // BG's 123.22 in the demo: overpaid twice, 73.22 and 50.00.
  expect(moves(refunded({ ...of, amountMinor: 12322n, place: 'bank' }))).toEqual([
    ['account_credit', 12322n],
    ['bank', -12322n],
  ]);
});

test('a deposit given back less a fee: the fee is income, the rest leaves the bank', () => {
  const refund = { ...of, amountMinor: 12000n, place: 'bank' } as const;
  expect(moves(depositRefunded({ ...refund, feeKeptMinor: 2500n }))).toEqual([
    ['deposits_held', 12000n],
    ['bank', -9500n],
    ['fee_income', -2500n],
  ]);
  expect(moves(depositRefunded({ ...refund, feeKeptMinor: 0n })).length).toBe(2);
  expect(() => depositRefunded({ ...refund, feeKeptMinor: 12001n })).toThrow('out of 12000');
});

test('a receipt of an unknown payer waits apart until it is known whose it is', () => {
  const receipt = { paymentId, on, amountMinor: 5000n };
  const received = receiptOfUnknownPayer({ ...receipt, place: 'bank' });
  expect(moves(received)).toEqual([
    ['bank', 5000n],
    ['unassigned_receipts', -5000n],
  ]);
  expect(received.lines.every((line) => line.partyId === undefined)).toBe(true);
  expect(moves(receiptAssigned({ ...receipt, party }))).toEqual([
    ['unassigned_receipts', 5000n],
    ['account_credit', -5000n],
  ]);
});

test('credit moved within a group leaves one account and comes to the other', () => {
  const { lines } = creditMoved({
    from: party,
    to: sister,
    on,
    amountMinor: 7892n,
    source: { paymentId },
    paymentId: sisterPaymentId,
  });
  expect(lines).toEqual([
    { account: 'account_credit', amountMinor: 7892n, partyId: party, paymentId },
    { account: 'account_credit', amountMinor: -7892n, partyId: sister, paymentId: sisterPaymentId },
  ]);
});

test('a processor keeps its fee and pays out the rest', () => {
  expect(moves(processorFee({ on, amountMinor: 856n, paymentId }))).toEqual([
    ['processor_fees', 856n],
    ['clearing', -856n],
  ]);
  expect(moves(payout({ on, amountMinor: 27634n }))).toEqual([
    ['bank', 27634n],
    ['clearing', -27634n],
  ]);
});

test.each([0n, -1n])(
  'an amount of %s in an event whose name says the direction is a mistake',
  (amountMinor) => {
    const money = { ...check, amountMinor };
    expect(() => paymentReceived(money)).toThrow('above zero');
    expect(() => refunded(money)).toThrow('above zero');
    expect(() => depositRefunded({ ...money, feeKeptMinor: 0n })).toThrow('above zero');
    expect(() => receiptAssigned(money)).toThrow('above zero');
    expect(() =>
      creditMoved({
        from: party,
        to: sister,
        on,
        amountMinor,
        source: { paymentId },
        paymentId: sisterPaymentId,
      }),
    ).toThrow('above zero');
    expect(() => processorFee(money)).toThrow('above zero');
    expect(() => payout(money)).toThrow('above zero');
    expect(() => paymentApplied({ ...of, parts: [{ invoiceId: first, amountMinor }] })).toThrow('above zero');
  },
);

function moves(entry: JournalEntry): [string, bigint][] {
  return entry.lines.map((line) => [line.account, line.amountMinor]);
}
