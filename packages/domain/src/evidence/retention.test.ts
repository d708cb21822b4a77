import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { isShorter, keptThrough, periodWords, readRetentionPeriod } from './retention.ts';

// By the calendar; 2028 is the next leap year.
test.each([
  ['2026-08-05', 7, 'years', '2033-08-05'],
  ['2028-02-29', 1, 'years', '2029-02-28'],
  ['2028-02-29', 4, 'years', '2032-02-29'],
  ['2026-08-05', 365, 'days', '2027-08-05'],
  ['2027-08-05', 365, 'days', '2028-08-04'],
] as const)('from %s, %d %s are over on %s', (from, period, unit, last) => {
  expect(keptThrough(day(from), { period, unit })).toBe(last);
});

test('shorter is told across units, and everything is shorter than for good', () => {
  expect(isShorter({ period: 2, unit: 'years' }, { period: 731, unit: 'days' })).toBe(true);
  expect(isShorter({ period: 730, unit: 'days' }, { period: 2, unit: 'years' })).toBe(false);
  expect(isShorter({ period: 50, unit: 'years' }, null)).toBe(true);
  expect(isShorter(null, { period: 1, unit: 'years' })).toBe(false);
  expect(isShorter(null, null)).toBe(false);
});

test.each([
  ['photos', '364', 'days', 'period'],
  ['photos', '7.5', 'years', 'period'],
  ['photos', '0', 'years', 'period'],
  ['photos', '51', 'years', 'period'],
  ['photos', '7', 'weeks', 'unit'],
  ['documents', '2', 'years', 'period'],
  ['recordings', '89', 'days', 'period'],
] as const)('%s for %s %s is refused', (kind, period, unit, field) => {
  expect(readRetentionPeriod(kind, { period, unit })).toMatchObject({
    ok: false,
    problem: { code: 'invalid_input', field },
  });
});

test('what is within the bounds is taken, and said in words', () => {
  const read = readRetentionPeriod('photos', { period: ' 1 ', unit: 'years' });
  expect(read).toEqual({ ok: true, value: { period: 1, unit: 'years' } });
  expect(periodWords({ period: 1, unit: 'years' })).toBe('1 year');
  expect(periodWords({ period: 1095, unit: 'days' })).toBe('1,095 days');
});
