import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sumMinor } from '../money/money.ts';
import { matchAmount, spreadAmount } from './match-amount.ts';

// The agreed demo figures: Penny Lantern's check of 565.58 pays 207.25 and 358.33, with 242.45 open as well.
const open = [20725n, 35833n, 24245n];

test('a check that pays two of three documents exactly is matched to those two', () => {
  expect(matchAmount(56558n, open)).toEqual([0, 1]);
});

test('one document that fits goes before several, and all go before a few', () => {
  expect(matchAmount(24245n, [10000n, 14245n, 24245n])).toEqual([2]);
  expect(matchAmount(80803n, open)).toEqual([0, 1, 2]);
});

test('of two that fit the older one is suggested', () => {
  expect(matchAmount(5000n, [5000n, 5000n])).toEqual([0]);
  expect(matchAmount(7000n, [5000n, 2000n, 1000n, 2000n])).toEqual([0, 1]);
});

test('an amount that fits nothing suggests nothing', () => {
  expect(matchAmount(60000n, open)).toEqual([]);
  expect(matchAmount(0n, open)).toEqual([]);
  expect(matchAmount(100n, [])).toEqual([]);
});

test('a suggestion always sums to the amount, each document once', () => {
  const amounts = fc.array(fc.bigInt({ min: 1n, max: 400n }), { maxLength: 12 });
  fc.assert(
    fc.property(amounts, fc.bigInt({ min: 1n, max: 1500n }), (each, amount) => {
      const found = matchAmount(amount, each);
      if (found.length === 0) return;
      expect(new Set(found).size).toBe(found.length);
      expect(sumMinor(found.map((place) => each[place] ?? 0n))).toBe(amount);
    }),
  );
});

test('ticked documents get what is open, in order, as far as the amount goes; what is written stays', () => {
  const ticked = (openMinor: bigint, writtenMinor: bigint | null = null) => ({ openMinor, writtenMinor });
  expect(spreadAmount(60000n, [ticked(52108n)])).toEqual([52108n]);
  expect(spreadAmount(40862n, [ticked(47237n)])).toEqual([40862n]);
  expect(spreadAmount(30000n, [ticked(20725n), ticked(35833n), ticked(24245n)])).toEqual([20725n, 9275n, 0n]);
  expect(spreadAmount(30000n, [ticked(20725n), ticked(35833n, 15000n)])).toEqual([15000n, 15000n]);
});
