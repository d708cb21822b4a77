import fc from 'fast-check';
import { expect, test } from 'vitest';
import { allocate } from './allocation.ts';
import { type Decimal, decimal } from './decimal.ts';
import {
  displayMoney,
  formatMinor,
  minorUnits,
  parseMinor,
  parseMoney,
  percentOf,
  roundHalfUp,
  timesHalfUp,
} from './money.ts';

const problemOf = (text: string, allowNegative = false) => {
  const parsed = parseMoney(text, { allowNegative, field: 'price' });
  return parsed.ok ? null : parsed.problem;
};

test.each([
  ['1,234.56', 123456n],
  ['1234.56', 123456n],
  ['12', 1200n],
  ['12.5', 1250n],
  ['.50', 50n],
  [' $0.07 ', 7n],
  ['0012.00', 1200n],
  ['1,234,567', 123456700n],
])('an amount typed as %s is read to the cent', (text, minor) => {
  expect(parseMoney(text)).toEqual({ ok: true, value: minor });
});

test.each([
  ['12.345', /3 decimals.*at most 2, like 1234\.56/],
  ['', /Write an amount/],
  ['   ', /Write an amount/],
  ['-5', /negative.*without a minus/],
  ['1234567890.00', /too large/],
  ['9'.repeat(5000), /too large/],
  ['12,34.56', /not an amount/],
  ['1.234,56', /not an amount/],
  ['1e3', /not an amount/],
  ['twelve', /not an amount/],
  ['٣', /not an amount/],
])('an amount typed as %s is refused with what to do instead', (text, sentence) => {
  expect(problemOf(text)).toMatchObject({ code: 'invalid_money', field: 'price' });
  expect(problemOf(text)?.detail).toMatch(sentence);
});

test('a negative amount is read where it is allowed, with either minus sign', () => {
  expect(parseMoney('-1.00', { allowNegative: true })).toEqual({ ok: true, value: -100n });
  expect(parseMoney('−$1.00', { allowNegative: true })).toEqual({ ok: true, value: -100n });
});

test('the API takes plain decimals only', () => {
  expect(parseMinor('284.90')).toEqual({ ok: true, value: 28490n });
  expect(parseMinor('1,284.90').ok).toBe(false);
  expect(parseMinor('$1').ok).toBe(false);
});

test('the yen has no decimals (ISO 4217: JPY 392, 0 digits; USD 840, 2 digits)', () => {
  expect([minorUnits('USD'), minorUnits('JPY')]).toEqual([2, 0]);
  expect(parseMoney('1.5', { currency: 'JPY' }).ok).toBe(false);
  expect(displayMoney(1234567n, 'JPY')).toBe('¥1,234,567');
  expect(() => minorUnits('ZZZ')).toThrow('ZZZ');
});

test('an amount is shown with its currency and grouping, a negative one with a minus before it', () => {
  expect([displayMoney(123456n), displayMoney(-100n), displayMoney(5n)]).toEqual([
    '$1,234.56',
    '−$1.00',
    '$0.05',
  ]);
  expect([formatMinor(123456n), formatMinor(-5n), formatMinor(0n)]).toEqual(['1234.56', '-0.05', '0.00']);
});

test('every amount reads back from its plain and its shown form', () => {
  fc.assert(
    fc.property(fc.bigInt(-99_999_999_999n, 99_999_999_999n), (minor) => {
      expect(parseMinor(formatMinor(minor), { allowNegative: true })).toEqual({ ok: true, value: minor });
      expect(parseMoney(displayMoney(minor), { allowNegative: true })).toEqual({ ok: true, value: minor });
    }),
  );
});

// General Decimal Arithmetic test cases 2.59: rounding.decTest (radx185 to 229), quantize.decTest.
test.each([
  ['12345.5', '12346'],
  ['12346.5', '12347'],
  ['12346.49999', '12346'],
])('half-up of %s to a whole is %s', (value, whole) => {
  expect(timesHalfUp(1n, decimal(value))).toBe(BigInt(whole));
});
test.each([
  ['1.2345', '1.23'],
  ['1.2355', '1.24'],
  ['9.9999', '10.00'],
  ['0.0078', '0.01'],
  ['-0.0078', '-0.01'],
  ['352364.506', '352364.51'],
  ['-352364.506', '-352364.51'],
])('half-up of %s to cents is %s', (value, cents) => {
  const exact: Decimal = decimal(value);
  expect(formatMinor(timesHalfUp(100n, exact))).toBe(cents);
});

// EN 16931 example invoices guide-example2 and BIS3 positive and negative: exact ties, half-even would differ.
test.each([
  [146050n, '25', 36513n],
  [62574354n, '25', 15643589n],
  [-62574354n, '25', -15643589n],
])('%s minor units at %s percent are %s', (base, rate, tax) => {
  expect(roundHalfUp(base, decimal(rate))).toBe(tax);
});

test('a percent of a whole has one decimal; of nothing there is none', () => {
  // (94000 − 28343) / 94000: 69.8 %, common practice, no source.
  expect(percentOf(65657n, 94000n)).toEqual(decimal('69.8'));
  expect(percentOf(1n, 0n)).toBeNull();
});

test('27 seats over six bases follow Hamilton (OpenStax Contemporary Mathematics, apportionment)', () => {
  expect(allocate(27n, [13n, 12n, 5n, 16n, 7n, 9n])).toEqual([6n, 5n, 2n, 7n, 3n, 4n]);
});

test('equal remainders go to the earlier one, zero weights get nothing, all zero share alike', () => {
  expect(allocate(100n, [1n, 1n, 1n])).toEqual([34n, 33n, 33n]);
  expect(allocate(-100n, [1n, 1n, 1n])).toEqual([-34n, -33n, -33n]);
  expect(allocate(5n, [0n, 3n, 0n])).toEqual([0n, 5n, 0n]);
  expect(allocate(5n, [0n, 0n])).toEqual([3n, 2n]);
  expect(allocate(0n, [])).toEqual([]);
  expect(() => allocate(1n, [])).toThrow();
  expect(() => allocate(1n, [2n, -1n])).toThrow();
});

test('an allocation never makes or loses a cent, and nobody is more than a cent off the exact share', () => {
  const weights = fc.array(fc.bigInt(0n, 10_000_000n), { minLength: 1, maxLength: 30 });
  fc.assert(
    fc.property(fc.bigInt(-1_000_000_000_000n, 1_000_000_000_000n), weights, (amount, shares) => {
      const given = allocate(amount, shares);
      const total = shares.reduce((a, b) => a + b, 0n);
      expect(given.reduce((a, b) => a + b, 0n)).toBe(amount);
      if (total === 0n) return;
      for (const [index, share] of given.entries()) {
        const off = share * total - amount * (shares[index] ?? 0n);
        expect(off < total && off > -total).toBe(true);
      }
    }),
  );
});
