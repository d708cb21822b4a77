import { day, month } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { dayWords, moneyWords, monthWords } from './figures.ts';

// As the pages write them: examples of the style that pages and papers share.
test('amounts bear their currency, groups of three and a true minus sign', () => {
  expect(moneyWords(123456n, 'USD')).toBe('$1,234.56');
  expect(moneyWords(-6375n, 'USD')).toBe('−$63.75');
  expect(moneyWords(5n, 'USD')).toBe('$0.05');
  expect(moneyWords(1200n, 'CAD')).toBe('CAD\u00a012.00');
  expect(moneyWords(-1234567n, 'JPY')).toBe('−JPY\u00a01,234,567');
});

test('days and months are written the US way', () => {
  expect(dayWords(day('2026-08-05'))).toBe('Aug 5, 2026');
  expect(monthWords(month('2026-10'))).toBe('October 2026');
});
