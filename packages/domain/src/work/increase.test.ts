import { expect, test } from 'vitest';
import { changeOfTotal, changeWords } from './increase.ts';

test('a scuff found on the day takes 239.63 to 330.69, 91.06 or 38.0 % more (the agreed demo figures)', () => {
  const change = changeOfTotal(23963n, 33069n);
  expect(change).toMatchObject({ approvedMinor: 23963n, newMinor: 33069n, differenceMinor: 9106n });
  expect(changeWords(change, 'USD')).toBe('from $239.63 to $330.69, $91.06 more (+38.0 %)');
});

test('of nothing there is no percent, and a decrease is below zero', () => {
  expect(changeOfTotal(0n, 100n).percent).toBeNull();
  expect(changeWords(changeOfTotal(200n, 150n), 'USD')).toBe('from $2.00 to $1.50, $0.50 less (−25.0 %)');
});
