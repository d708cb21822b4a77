import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import { demoBook, demoLineId, demoTerms, demoTiers } from './demo-figures.ts';
import type { PriceTerms, Tier } from './price-book.ts';
import { priceLine } from './price-line.ts';
import { priceVehicle, repriceApproved, vehicleRules } from './price-vehicle.ts';
import { priceVisit } from './price-visit.ts';

// Computed by hand, the arithmetic beside each figure. The rules are common practice of the trade, no source; the
// numbers are an invented price book's.

const within = { miles: decimal('12'), afterHours: false, rush: false, walkIn: false };
const rushTerms: PriceTerms = { ...demoTerms, rushPercent: decimal('30'), rushMinimumMinor: 4000n };
const zoned: PriceTerms = {
  ...demoTerms,
  tripZones: [
    { name: 'Valley', upToMiles: decimal('20'), amountMinor: 4500n },
    { name: 'Foothills', upToMiles: decimal('35'), amountMinor: 7000n },
  ],
};

function charged(
  repairs: readonly bigint[],
  facts = within,
  terms = demoTerms,
  tier: Tier = demoTiers.retail,
) {
  return priceVisit(
    repairs.map((repairsMinor) => ({ repairsMinor })),
    facts,
    tier,
    terms,
  );
}

test('rush is a percent of repairs, rounded on its own beside after-hours, and a limit counts both', () => {
  const visit = charged([16225n, 6500n], { ...within, afterHours: true, rush: true }, rushTerms);
  // 227.25 × 30 % = 68.175, half-up 68.18; 227.25 × 25 % = 56.8125, below the minimum of 60.00.
  expect(visit.rush).toMatchObject({ amountMinor: 6818n, trail: 'rush 30 % of 227.25 → 68.18' });
  expect(visit.afterHours).toMatchObject({ amountMinor: 6000n });
  // 68.18 × 162.25 ÷ 227.25 = 48.6786 and 19.5014: 48.67 + 19.50 leaves a cent, to the larger remainder.
  expect(visit.rushByVehicleMinor).toEqual([4868n, 1950n]);
  // 60.00 likewise: 42.8383 and 17.1617.
  expect(visit.afterHoursByVehicleMinor).toEqual([4284n, 1716n]);
  // 162.25 + 42.84 + 48.68 = 253.77; 65.00 + 17.16 + 19.50 = 101.66; together 355.43.
  expect(visit.limitByVehicleMinor).toEqual([25377n, 10166n]);
  expect(visit.limitMinor).toBe(35543n);
  // 355.43 and the trip of 45.00.
  expect(visit.netMinor).toBe(40043n);
});

test('rush is at least its minimum, and nothing where it is off, not asked for, or nothing is charged', () => {
  const rush = { ...within, rush: true };
  // 110.00 × 30 % = 33.00.
  expect(charged([11000n], rush, rushTerms).rush).toMatchObject({
    amountMinor: 4000n,
    trail: 'rush 30 % of 110.00, at least 40.00 → 40.00',
  });
  expect(charged([11000n], rush).rush).toBeNull();
  expect(charged([11000n], within, rushTerms).rush).toBeNull();
  expect(charged([0n], rush, rushTerms).rush).toBeNull();
});

test.each([
  ['0', 4500n, 'trip zone “Valley” up to 20 mi 45.00 → 45.00'],
  ['20', 4500n, 'trip zone “Valley” up to 20 mi 45.00 → 45.00'],
  ['20.1', 7000n, 'trip zone “Foothills” up to 35 mi 70.00 → 70.00'],
  ['35', 7000n, 'trip zone “Foothills” up to 35 mi 70.00 → 70.00'],
  // 70.00 + 4 × 1.50.
  ['39', 7600n, 'trip zone “Foothills” up to 35 mi 70.00, 4 mi further at 1.50 → 76.00'],
])('a trip of %s miles costs its zone’s amount, %s cents', (miles, amountMinor, trail) => {
  const { trip } = charged([10000n], { ...within, miles: decimal(miles) }, zoned);
  expect(trip).toMatchObject({ amountMinor, trail });
});

test('a zone’s amount is waived from the tier’s threshold on, the miles beyond the last zone never', () => {
  const far = { ...within, miles: decimal('39') };
  const waived = charged([30000n], far, zoned, demoTiers.lot).trip;
  expect(waived).toMatchObject({
    amountMinor: 600n,
    trail: 'trip zone “Foothills” up to 35 mi waived from 300.00 of repairs, 4 mi further at 1.50 → 6.00',
  });
  expect(charged([29999n], far, zoned, demoTiers.lot).trip).toMatchObject({ amountMinor: 7600n });
  expect(charged([10000n], { ...far, walkIn: true }, zoned).trip).toBeNull();
});

test('a visit below its minimum is lifted to it once, and neither surcharges nor limits count what lifts it', () => {
  const tier = { ...demoTiers.lot, visitMinimumMinor: 20000n };
  const visit = charged([6500n, 8500n], { ...within, rush: true }, rushTerms, tier);
  // 200.00 − (65.00 + 85.00); rush 150.00 × 30 % = 45.00, not 60.00.
  expect(visit.minimum).toEqual({
    amountMinor: 5000n,
    trail: 'visit minimum 200.00, repairs 150.00 → 50.00',
  });
  expect(visit.rush?.amountMinor).toBe(4500n);
  expect(visit.limitMinor).toBe(19500n);
  // 150.00 + 45.00 + 50.00 + the trip of 45.00.
  expect(visit.netMinor).toBe(29000n);
  expect(charged([20000n], within, demoTerms, tier).minimum).toBeNull();
  expect(charged([0n, 0n], within, demoTerms, tier).minimum).toBeNull();
});

function lines(...codes: string[]) {
  return codes.map((code, index) => {
    const place = { part: null, material: null } as const;
    const line = { kind: 'code', lineId: demoLineId(index + 1), code, careFactors: [], ...place } as const;
    const buyer = { tier: demoTiers.retail, tierPrices: [], contracts: [], accountPrices: [] };
    const result = priceLine(line, demoBook, buyer, day('2026-08-05'));
    if (!result.ok) throw new Error(result.problem.detail);
    return result.value;
  });
}

const capped = vehicleRules({ ...demoTiers.retail, vehicleCapMinor: 30000n }, demoTerms);

test('lines above the vehicle’s cap are lowered to it in proportion, labor and materials with them', () => {
  // 195.00 in full, 140.00 × 90 % = 126.00, 95.00 × 80 % = 76.00: 397.00.
  const price = priceVehicle(lines('VC-M', 'VC-S', 'SC-S'), capped);
  // × 300 ÷ 397: 147.35516, 95.21411, 57.43073; the cent left goes to the first.
  expect(price.lines.map((line) => line.netMinor)).toEqual([14736n, 9521n, 5743n]);
  // 12 % of 147.36 = 17.6832; 12 % of 95.21 = 11.4252; 15 % of 57.43 = 8.6145.
  expect(price.lines.map((line) => line.materialsMinor)).toEqual([1768n, 1143n, 861n]);
  expect(price.lines.map((line) => line.laborMinor)).toEqual([12968n, 8378n, 4882n]);
  expect(price.lines[1]?.trail).toBe(
    'list 140.00, retail, no discount → 140.00, further repair 90 % → 126.00, vehicle cap 300.00 → 95.21',
  );
  expect(price).toMatchObject({ minimum: null, repairsMinor: 30000n, capMinor: 30000n });
});

test('a line declined prices the rest again, cap included', () => {
  const version = { lines: lines('VC-M', 'VC-S', 'SC-S'), rules: capped };
  const without = (...ids: number[]) => {
    const result = repriceApproved(version, ids.map(demoLineId));
    return result.ok ? result.value.lines.map((line) => line.netMinor) : [];
  };
  // 140.00 in full and 95.00 × 90 % = 85.50 stay below 300.00.
  expect(without(2, 3)).toEqual([14000n, 8550n]);
  // 195.00 + 126.00 = 321.00; × 300 ÷ 321: 182.24299 and 117.75701, the cent left to the second.
  expect(without(1, 2)).toEqual([18224n, 11776n]);
});

test('a cap is no limit to a vehicle that comes to just as much, nor to one without charge', () => {
  const just = vehicleRules({ ...demoTiers.retail, vehicleCapMinor: 19500n }, demoTerms);
  expect(priceVehicle(lines('VC-M'), just)).not.toHaveProperty('capMinor');
  const rework = vehicleRules({ ...demoTiers.retail, vehicleCapMinor: 30000n }, demoTerms, true);
  expect(priceVehicle(lines('VC-M', 'VC-S', 'SC-S'), rework)).toMatchObject({ repairsMinor: 0n });
});
