import fc from 'fast-check';
import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import { commissionMinor } from './commission.ts';
import { commissionMovements, type LaborEvent } from './commission-movements.ts';

const on = day('2026-10-14');

// The agreed demo figures, recomputed by hand: 40 % of 416.48 is 166.59; of the 333.98 that remain after a credit 133.59.
test('a credit takes back the difference between the commission before and of what remains', () => {
  const moved = commissionMovements(
    [
      { kind: 'invoiced', on, laborMinor: 41648n },
      { kind: 'credited', on, laborMinor: 8250n },
    ],
    decimal('40'),
  );
  expect(moved.map((each) => each.commissionMinor)).toEqual([16659n, -3300n]);
});

test('a void takes back whatever is left', () => {
  const moved = commissionMovements(
    [
      { kind: 'invoiced', on, laborMinor: 101n },
      { kind: 'credited', on, laborMinor: 50n },
      { kind: 'voided', on },
    ],
    decimal('35'),
  );
  // 35.35 → 35, of 51 17.85 → 18, of nothing nothing.
  expect(moved.map((each) => each.commissionMinor)).toEqual([35n, -17n, -18n]);
});

test('however it was credited, all movements together are the commission of what remains', () => {
  const credits = fc.array(fc.bigInt({ min: 0n, max: 5_000n }), { maxLength: 8 });
  const percent = fc
    .integer({ min: 0, max: 100_000 })
    .map((digits) => ({ digits: BigInt(digits), scale: 3 }));
  fc.assert(
    fc.property(fc.bigInt({ min: 40_000n, max: 90_000n }), credits, percent, (laborMinor, credited, rate) => {
      const events: LaborEvent[] = [
        { kind: 'invoiced', on, laborMinor },
        ...credited.map((each) => ({ kind: 'credited' as const, on, laborMinor: each })),
      ];
      const moved = commissionMovements(events, rate);
      const remains = credited.reduce((left, each) => left - each, laborMinor);
      expect(moved.reduce((sum, each) => sum + each.commissionMinor, 0n)).toBe(
        commissionMinor(remains, rate),
      );
      expect(moved.reduce((sum, each) => sum + each.laborMinor, 0n)).toBe(remains);
    }),
  );
});

test('more credited than invoiced is a broken record', () => {
  const events: LaborEvent[] = [
    { kind: 'invoiced', on, laborMinor: 100n },
    { kind: 'credited', on, laborMinor: 101n },
  ];
  expect(() => commissionMovements(events, decimal('40'))).toThrow('by 1');
});
