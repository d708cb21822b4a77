import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addDays, contains, day, type Period } from '../dates.ts';
import { compareDecimals, type Decimal } from '../money/decimal.ts';
import type { VehiclePart } from '../work/damage.ts';
import type { Material } from '../work/material.ts';
import { demoLineId } from './demo-figures.ts';
import { type Repaired, rateOfFamily } from './in-force.ts';
import type { Buyer, PriceBook, Rate } from './price-book.ts';
import { type LineToPrice, priceLine } from './price-line.ts';
import { computedFromTrail } from './trail-arithmetic.test-support.ts';

const start = day('2026-01-01');
const days = fc.integer({ min: 0, max: 30 }).map((later) => addDays(start, later));
const periods: fc.Arbitrary<Period> = fc
  .tuple(days, fc.option(fc.integer({ min: 0, max: 20 })))
  .map(([from, length]) => ({ from, to: length === null ? null : addDays(from, length) }));
const share: fc.Arbitrary<Decimal> = fc.bigInt(0n, 10_000n).map((digits) => ({ digits, scale: 2 }));
const inches: fc.Arbitrary<Decimal> = fc.bigInt(1n, 80n).map((digits) => ({ digits, scale: 1 }));
const part = fc.constantFrom<VehiclePart>('dash', 'seat_back');
const material = fc.constantFrom<Material>('tpu', 'leather');
const repaired: fc.Arbitrary<Repaired> = fc.record({ part: fc.option(part), material: fc.option(material) });
const codes = ['R-1', 'R-2', 'R-3'];
const code = fc.constantFrom(...codes);
const minor = fc.bigInt(1n, 500_000n);

const rates: fc.Arbitrary<readonly Rate[]> = fc
  .array(
    fc.record({
      ends: fc.option(fc.tuple(inches, inches)),
      only: repaired,
      listMinor: minor,
      materialsPercent: share,
      takesFurtherRepair: fc.boolean(),
      inForce: periods,
    }),
    { maxLength: codes.length },
  )
  .map((written) =>
    written.map(({ ends, only, ...rate }, index) => {
      const [overInches, toInches] = ends?.toSorted(compareDecimals) ?? [];
      const band =
        overInches === undefined || toInches === undefined || compareDecimals(overInches, toInches) === 0
          ? null
          : { overInches, toInches };
      return { code: codes[index] ?? '', repair: 'R', family: 'R', band, ...only, ...rate };
    }),
  );

const own = fc.record({ code, priceMinor: minor, inForce: periods });
const buyers: fc.Arbitrary<Buyer> = fc.record({
  tier: share.map((discountPercent) => ({
    code: 't',
    name: 'tier',
    discountPercent,
    vehicleMinimumMinor: 0n,
    vehicleCapMinor: null,
    visitMinimumMinor: 0n,
    tripWaivedFromMinor: null,
  })),
  tierPrices: fc.array(own, { maxLength: 3 }),
  contracts: fc.array(fc.record({ name: fc.constant('agreed'), discountPercent: share, inForce: periods }), {
    maxLength: 2,
  }),
  accountPrices: fc.array(own, { maxLength: 3 }),
});

const books: fc.Arbitrary<PriceBook> = fc.record({
  rates,
  factors: fc
    .record({ percent: fc.bigInt(10_000n, 30_000n), inForce: periods })
    .map(({ percent, inForce }) => [
      { code: 'f', name: 'factor', percent: { digits: percent, scale: 2 }, inForce },
    ]),
  terms: fc.constant([]),
});

const careFactors = fc.constantFrom<readonly string[]>([], ['f']);
const lineId = demoLineId(1);
const lines: fc.Arbitrary<LineToPrice> = fc.oneof(
  fc.tuple(repaired, code, careFactors).map(([line, named, care]) => ({
    kind: 'code' as const,
    lineId,
    ...line,
    code: named,
    careFactors: care,
  })),
  fc.tuple(repaired, fc.option(inches), careFactors).map(([line, sizeInches, care]) => ({
    kind: 'size' as const,
    lineId,
    ...line,
    family: 'R',
    sizeInches,
    careFactors: care,
  })),
  fc.tuple(fc.bigInt(-100n, 500_000n), share).map(([priceMinor, materialsPercent]) => ({
    kind: 'by_hand' as const,
    lineId,
    code: 'OTHER',
    repair: 'R',
    priceMinor,
    reason: 'odd shape',
    materialsPercent,
    takesFurtherRepair: true,
  })),
);

test('no mix of rates, tiers, contracts, own prices, factors and prices by hand makes a negative or undefined price', () => {
  fc.assert(
    fc.property(lines, books, buyers, days, (line, book, buyer, on) => {
      const priced = priceLine(line, book, buyer, on);
      if (!priced.ok) {
        expect(['price_by_hand', 'invalid_size', 'invalid_input', 'invalid_money']).toContain(
          priced.problem.code,
        );
        return;
      }
      const { listMinor, afterFactorMinor, beforeFurtherMinor, beforeFurtherTrail } = priced.value;
      for (const amount of [listMinor, afterFactorMinor, beforeFurtherMinor])
        expect(typeof amount === 'bigint' && amount >= 0n).toBe(true);
      expect(listMinor > 0n).toBe(true);
      // What stands in the trail leads to the price, by an arithmetic of its own.
      expect([beforeFurtherTrail, computedFromTrail(beforeFurtherTrail)]).toEqual([
        beforeFurtherTrail,
        beforeFurtherMinor,
      ]);
      expect(beforeFurtherTrail).not.toContain('odd shape');
    }),
    { numRuns: 1000 },
  );
});

test('the rate of a line is for its part, material and size, and none that says more of them was passed over', () => {
  fc.assert(
    fc.property(rates, repaired, inches, days, (all, line, sizeInches, on) => {
      const found = rateOfFamily(all, { ...line, family: 'R', sizeInches }, on);
      const fits = (rate: Rate) =>
        contains(rate.inForce, on) &&
        [null, line.part].includes(rate.part) &&
        [null, line.material].includes(rate.material) &&
        (rate.band === null ||
          (compareDecimals(sizeInches, rate.band.overInches) > 0 &&
            compareDecimals(sizeInches, rate.band.toInches) <= 0));
      const says = (rate: Rate) => `${rate.part === null ? 0 : 1}${rate.material === null ? 0 : 1}`;
      const most = all.filter(fits).map(says).toSorted().at(-1);
      expect(found.ok ? says(found.value) : undefined).toBe(most);
      if (found.ok) expect(fits(found.value)).toBe(true);
      else expect(found.problem.code).toBe('price_by_hand');
    }),
    { numRuns: 1000 },
  );
});
