import { day, month } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { agingBars } from './aging-bars.ts';
import { ageText, dayText, moneyText, monthText } from './figures.ts';

// Common practice in the US, no source; the minor units are those of ISO 4217.
test.each([
  [28490n, 'USD', '$284.90'],
  [5n, 'USD', '$0.05'],
  [0n, 'USD', '$0.00'],
  [-6375n, 'USD', '−$63.75'],
  [123456789n, 'USD', '$1,234,567.89'],
  [9007199254740993n, 'USD', '$90,071,992,547,409.93'],
  [1200n, 'CAD', 'CAD\u00a012.00'],
  [1200n, 'JPY', 'JPY\u00a01,200'],
])('%s of %s is written %s', (amountMinor, currency, shown) => {
  expect(moneyText(amountMinor, currency)).toBe(shown);
});

test('days, months and ages are written out', () => {
  expect(dayText(day('2026-08-05'))).toBe('Aug 5, 2026');
  expect(monthText(month('2026-08'))).toBe('August 2026');
  expect([0, 1, 14].map(ageText)).toEqual(['0 days', '1 day', '14 days']);
});

test('the longest bar is the largest amount, and a credit has none', () => {
  const markup = String(
    agingBars({
      caption: 'Open by age',
      currency: 'USD',
      buckets: [
        { label: 'Not due', amountMinor: 40000n, overdue: false },
        { label: '1–30 days', amountMinor: 10000n, overdue: true },
        { label: '31–60 days', amountMinor: -500n, overdue: true },
        { label: 'Over 90 days', amountMinor: 1n, overdue: true },
      ],
    }),
  );
  expect([...markup.matchAll(/x="0" y="1" width="(\d+)"/g)].map((match) => match[1])).toEqual([
    '1000',
    '250',
    '1',
  ]);
  expect(markup).toContain('$495.01');
});
