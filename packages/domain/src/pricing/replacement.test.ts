import { expect, test } from 'vitest';
import { decimal, formatDecimal } from '../money/decimal.ts';
import {
  fittedMinor,
  placedPartWords,
  type ReplaceableLine,
  repairedParts,
  replacementCost,
} from './replacement.ts';
import { savings } from './savings.ts';

/** Expected figures were worked out by hand; the two jobs are those of the trade's own examples. */

const trim = (side: 'left' | 'right', declined = false): ReplaceableLine => ({
  part: 'quarter_trim',
  side,
  repairsDamage: true,
  declined,
});

test('a part of 742.00 and 1.2 hours at 165.00 to fit it come to 940.00', () => {
  // 1.2 × 165.00 = 198.00; 742.00 + 198.00 = 940.00.
  expect(fittedMinor({ partMinor: 74_200n, hours: decimal('1.2'), hourlyMinor: 16_500n })).toBe(94_000n);
});

test('labor is rounded half-up to the cent', () => {
  // 0.25 × 99.50 = 24.875, which is 24.88; 10.00 + 24.88 = 34.88.
  expect(fittedMinor({ partMinor: 1000n, hours: decimal('0.25'), hourlyMinor: 9950n })).toBe(3488n);
});

test('two trims of 1,280.00, each with 0.9 hours at 165.00, come to 2,857.00, and their repair saves 77.9 %', () => {
  // 0.9 × 165.00 = 148.50; 1,428.50 each.
  const each = fittedMinor({ partMinor: 128_000n, hours: decimal('0.9'), hourlyMinor: 16_500n });
  expect(each).toBe(142_850n);
  const quotes = (['left', 'right'] as const).map((side) => ({
    placed: { part: 'quarter_trim' as const, side },
    amountMinor: each,
  }));
  const { minor, unquoted } = replacementCost(quotes, [trim('left'), trim('right')]);
  expect(minor).toBe(285_700n);
  expect(unquoted).toEqual([]);
  // 2,857.00 − 631.34 = 2,225.66; 2,225.66 ÷ 2,857.00 = 0.77902.
  const saved = savings(285_700n, 63_134n);
  expect(saved?.savedMinor).toBe(222_566n);
  expect(saved === null ? '' : formatDecimal(saved.percent)).toBe('77.9');
});

test('a part that was declined is not repaired, so its quote does not stand against the repair', () => {
  const left = { placed: { part: 'quarter_trim' as const, side: 'left' as const }, amountMinor: 100_000n };
  const right = { placed: { part: 'quarter_trim' as const, side: 'right' as const }, amountMinor: 150_000n };
  const { counted, minor } = replacementCost([left, right], [trim('left'), trim('right', true)]);
  expect(counted).toEqual([left]);
  expect(minor).toBe(100_000n);
});

test('two lines of one part are one part to buy, and what repairs no damage is none', () => {
  const removal: ReplaceableLine = { part: 'dash', side: null, repairsDamage: false, declined: false };
  expect(repairedParts([trim('left'), trim('left'), removal])).toEqual([
    { part: 'quarter_trim', side: 'left' },
  ]);
});

test('one sum for all damaged parts leaves none of them without a quote', () => {
  const { minor, unquoted } = replacementCost(
    [{ placed: null, amountMinor: 94_000n }],
    [trim('left'), trim('right')],
  );
  expect(minor).toBe(94_000n);
  expect(unquoted).toEqual([]);
});

test('repaired parts without a quote are told, and without any quote there is no sum', () => {
  const left = { placed: { part: 'quarter_trim' as const, side: 'left' as const }, amountMinor: 1n };
  expect(replacementCost([left], [trim('left'), trim('right')]).unquoted.map(placedPartWords)).toEqual([
    'quarter trim, right',
  ]);
  expect(replacementCost([], [trim('left')]).minor).toBeNull();
});
