import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { type AccountId, type InvoiceId, toId } from '../ids.ts';
import { ledgerAccounts } from './chart.ts';
import { balanced, journalEntry } from './journal.ts';

const on = day('2026-08-05');
const partyId: AccountId = toId('00000000-0000-7000-8000-0000000000a1');
const invoiceId: InvoiceId = toId('00000000-0000-7000-8000-000000000001');

test('debits equal credits, or an entry is not made', () => {
  const bank = { account: 'bank', amountMinor: 100n } as const;
  expect(balanced([bank, { account: 'clearing', amountMinor: -100n }])).toBe(true);
  expect(balanced([bank, { account: 'clearing', amountMinor: -99n }])).toBe(false);
  expect(() =>
    journalEntry('payout_received', on, [bank, { account: 'clearing', amountMinor: -99n }]),
  ).toThrow('the lines sum to 1');
});

test('a line of zero is left out', () => {
  const entry = journalEntry('payout_received', on, [
    { account: 'bank', amountMinor: 100n },
    { account: 'processor_fees', amountMinor: 0n },
    { account: 'clearing', amountMinor: -100n },
  ]);
  expect(entry.lines.map((line) => line.account)).toEqual(['bank', 'clearing']);
});

test('receivables, account credit and deposits name whose they are, receivables also the invoice', () => {
  const against = { account: 'bank', amountMinor: -100n } as const;
  for (const account of ['receivables', 'account_credit', 'deposits_held'] as const)
    expect(() =>
      journalEntry('payment_received', on, [{ account, amountMinor: 100n, invoiceId }, against]),
    ).toThrow(`a line of ${account} names no party`);
  expect(() =>
    journalEntry('payment_received', on, [{ account: 'receivables', amountMinor: 100n, partyId }, against]),
  ).toThrow('names no invoice');
});

test('assets and costs stand in debit; debts, income and equity in credit', () => {
  // Double entry as every textbook has it; discounts and bad debts lower income, so they stand in debit.
  const debit = Object.entries(ledgerAccounts)
    .filter(([, account]) => account.normalSide === 'debit')
    .map(([code]) => code)
    .toSorted();
  expect(debit).toEqual(['bad_debts', 'bank', 'clearing', 'discounts', 'processor_fees', 'receivables']);
});
