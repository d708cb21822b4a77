import fc from 'fast-check';
import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';
import { formatMinor } from '../money/money.ts';
import { demoLineId, demoTerms } from './demo-figures.ts';
import type { PriceBook, Tier } from './price-book.ts';
import { type PricedLine, priceLine } from './price-line.ts';
import { priceVehicle, repriceApproved, type VehiclePrice, vehicleRules } from './price-vehicle.ts';
import { priceVisit } from './price-visit.ts';

const always = { from: day('2026-01-01'), to: null };
const share: fc.Arbitrary<Decimal> = fc.bigInt(0n, 10_000n).map((digits) => ({ digits, scale: 2 }));

const tiers: fc.Arbitrary<Tier> = fc.record({
  code: fc.constant('t'),
  name: fc.constant('tier'),
  discountPercent: share,
  vehicleMinimumMinor: fc.bigInt(0n, 50_000n),
  tripWaivedFromMinor: fc.option(fc.bigInt(0n, 100_000n)),
});

const terms = fc.record({
  furtherRepairPercents: fc.array(share, { minLength: 1, maxLength: 4 }),
  tripMinor: fc.bigInt(0n, 10_000n),
  mileMinor: fc.bigInt(0n, 1_000n),
  afterHoursPercent: share,
  afterHoursMinimumMinor: fc.bigInt(0n, 10_000n),
});

const repairs = fc.record({
  listMinor: fc.bigInt(1n, 500_000n),
  materialsPercent: share,
  takesFurtherRepair: fc.boolean(),
  factorPercent: fc.bigInt(1n, 30_000n).map((digits) => ({ digits, scale: 2 })),
  ownPriceMinor: fc.option(fc.bigInt(0n, 500_000n), { freq: 4 }),
});

type Repair = typeof repairs extends fc.Arbitrary<infer T> ? T : never;

function priced(repair: Repair, tier: Tier, index: number): PricedLine {
  const book: PriceBook = {
    rates: [{ code: 'R', repair: 'R', family: 'R', band: null, inForce: always, ...repair }],
    factors: [{ code: 'f', name: 'factor', percent: repair.factorPercent, inForce: always }],
    terms: [],
  };
  const { ownPriceMinor } = repair;
  const accountPrices =
    ownPriceMinor === null ? [] : [{ code: 'R', priceMinor: ownPriceMinor, inForce: always }];
  const line = { kind: 'code', lineId: demoLineId(index), code: 'R', careFactors: ['f'] } as const;
  const result = priceLine(line, book, { tier, accountPrices }, day('2026-08-05'));
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

function expectSound(price: VehiclePrice): void {
  for (const line of price.lines) {
    expect(line.netMinor >= 0n && line.laborMinor >= 0n && line.materialsMinor >= 0n).toBe(true);
    expect(line.laborMinor + line.materialsMinor).toBe(line.netMinor);
    expect(line.netMinor <= line.beforeFurtherMinor).toBe(true);
    expect(line.trail.match(/[\d.]+$/)?.[0]).toBe(formatMinor(line.netMinor));
  }
  const lines = price.lines.reduce((sum, line) => sum + line.netMinor, 0n);
  expect(price.repairsMinor).toBe(lines + (price.minimum?.netMinor ?? 0n));
  expect(price.laborMinor + price.materialsMinor).toBe(price.repairsMinor);
}

test('whatever the tier, factor and terms: no negative price, labor and materials make the line, the trail ends in the net', () => {
  const vehicle = fc.array(repairs, { maxLength: 6 });
  fc.assert(
    fc.property(vehicle, tiers, terms, (written, tier, varied) => {
      const lines = written.map((repair, index) => priced(repair, tier, index));
      const rules = vehicleRules(tier, { ...demoTerms, ...varied });
      const price = priceVehicle(lines, rules);
      expectSound(price);
      expect(price.lines.map((line) => line.lineId)).toEqual(lines.map((line) => line.lineId));
      if (price.minimum) expect(price.repairsMinor).toBe(tier.vehicleMinimumMinor);
      const again = repriceApproved(
        { lines: price.lines, rules },
        price.lines.map((line) => line.lineId),
      );
      expect(again).toEqual({ ok: true, value: price });
      expectSound(priceVehicle(lines, { ...rules, rework: true }));
    }),
  );
});

test('after-hours shared over vehicles and the limits add up, whatever the visit', () => {
  const vehicles = fc.array(fc.record({ repairsMinor: fc.bigInt(0n, 200_000n) }), { maxLength: 8 });
  const facts = fc.record({
    miles: fc.bigInt(0n, 2_000n).map((digits) => ({ digits, scale: 1 })),
    afterHours: fc.boolean(),
    walkIn: fc.boolean(),
  });
  fc.assert(
    fc.property(vehicles, facts, tiers, terms, (lots, visit, tier, varied) => {
      const price = priceVisit(lots, visit, tier, { ...demoTerms, ...varied });
      const sum = (amounts: readonly bigint[]) => amounts.reduce((a, b) => a + b, 0n);
      expect(sum(price.afterHoursByVehicleMinor)).toBe(price.afterHours?.amountMinor ?? 0n);
      expect(price.limitMinor).toBe(price.repairsMinor + (price.afterHours?.amountMinor ?? 0n));
      expect(price.netMinor).toBe(price.limitMinor + (price.trip?.amountMinor ?? 0n));
      expect(price.netMinor >= price.repairsMinor).toBe(true);
    }),
  );
});
