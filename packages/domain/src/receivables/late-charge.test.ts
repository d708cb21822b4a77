import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import { lateCharge } from './late-charge.ts';

// Amounts worked out by hand; the rule is common practice, no source.
const policy = { percent: decimal('1.5'), graceDays: 10 };
const late = { dueOn: day('2026-08-26'), openMinor: 47237n, disputedMinor: 0n };

test('a month costs the per cent of what is past due, half-up: 1.5 % of 472.37 is 7.08555', () => {
  expect(lateCharge(late, policy, day('2026-09-30'))).toEqual({ baseMinor: 47237n, amountMinor: 709n });
});

test('nothing is charged through the last day of grace, and from the day after it is', () => {
  expect(lateCharge(late, policy, day('2026-09-05'))).toBeNull();
  expect(lateCharge(late, policy, day('2026-09-06'))).not.toBeNull();
});

test('what is disputed is not charged for: 472.37 less 63.75 is 408.62, of which 1.5 % is 6.1293', () => {
  const disputed = { ...late, disputedMinor: 6375n };
  expect(lateCharge(disputed, policy, day('2026-09-30'))).toEqual({ baseMinor: 40862n, amountMinor: 613n });
  expect(lateCharge({ ...late, disputedMinor: 47237n }, policy, day('2026-09-30'))).toBeNull();
});

test('a per cent of zero charges nothing', () => {
  expect(lateCharge(late, { percent: decimal('0'), graceDays: 0 }, day('2026-09-30'))).toBeNull();
});
