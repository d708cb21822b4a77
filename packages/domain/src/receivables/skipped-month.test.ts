import { expect, test } from 'vitest';
import { day, month } from '../dates.ts';
import { skippedMonth } from './skipped-month.ts';
import type { StatementRow } from './statement.ts';

const rowOn = (on: string): StatementRow => ({
  on: day(on),
  sequence: 1n,
  event: 'payment_received',
  kind: 'payment',
  amountMinor: -100n,
  invoiceIds: [],
  paymentIds: [],
  creditNoteIds: [],
});
const october = (...days: readonly string[]) => ({ month: month('2026-10'), rows: days.map(rowOn) });
const august = { month: month('2026-08') };

// Common practice, no source: a statement opens as the one before closed.
test('a month between two statements that has something to tell is skipped', () => {
  expect(skippedMonth(october('2026-09-01', '2026-10-02'), august)).toBe('2026-09');
  expect(skippedMonth(october('2026-09-30'), august)).toBe('2026-09');
});

test('what is dated back into the month before is told now, and skips nothing', () => {
  expect(skippedMonth(october('2026-08-31', '2026-10-01'), august)).toBeNull();
});

test('where nothing was issued before, nothing is skipped', () => {
  expect(skippedMonth(october('2026-07-01'), null)).toBeNull();
});
