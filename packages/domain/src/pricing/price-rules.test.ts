import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import { demoAccount, demoBook, demoLineId, demoTerms, demoTiers } from './demo-figures.ts';
import { depositMinor } from './deposit.ts';
import { rateDay, rateInForce, rateOfFamily, termsInForce } from './in-force.ts';
import type { Buyer } from './price-book.ts';
import { type LineToPrice, priceLine } from './price-line.ts';
import { priceVehicle, repriceApproved, vehicleRules } from './price-vehicle.ts';
import { priceVisit } from './price-visit.ts';
import { savings } from './savings.ts';

// The price rules are common practice of the trade, without a published source; the numbers are an invented
// price book's.

const on = day('2026-08-05');
const retail: Buyer = { tier: demoTiers.retail, tierPrices: [], contracts: [], accountPrices: [] };

function bySize(family: string, inches: string | null) {
  const sizeInches = inches === null ? null : decimal(inches);
  const found = rateOfFamily(demoBook.rates, { family, sizeInches, part: null, material: null }, on);
  return found.ok ? found.value.code : found.problem.code;
}

interface Written {
  readonly kind: LineToPrice['kind'];
  readonly code?: string;
  readonly careFactors?: readonly string[];
  readonly reason?: string;
  readonly priceMinor?: bigint;
}

function price(line: Written, buyer = retail) {
  const whole = {
    lineId: demoLineId(1),
    code: 'X-1',
    family: 'VC',
    sizeInches: decimal('2'),
    part: null,
    material: null,
    careFactors: [],
    repair: 'Odd job',
    priceMinor: 12000n,
    reason: 'odd shape',
    materialsPercent: decimal('10'),
    takesFurtherRepair: true,
    ...line,
  };
  const result = priceLine(whole, demoBook, buyer, on);
  return result.ok ? result.value : result.problem;
}

test.each([
  ['VC', '0.01', 'VC-S'],
  ['VC', '1', 'VC-S'],
  ['VC', '1.0', 'VC-S'],
  ['VC', '1.01', 'VC-M'],
  ['VC', '3', 'VC-M'],
  ['VC', '6', 'VC-L'],
  ['BN', '0.5', 'BN-S'],
  ['BN', '3.1', 'BN-L'],
  ['LT', '2.6', 'LT-M'],
  ['RI-1', null, 'RI-1'],
  ['KF-1', '2', 'KF-1'],
])('%s measured at %s in falls into %s: a boundary belongs to the lower band', (family, inches, code) => {
  expect(bySize(family, inches)).toBe(code);
});

test.each([
  ['VC', '0', 'invalid_size'],
  ['VC', '-2', 'invalid_size'],
  ['VC', null, 'invalid_size'],
  ['RI-1', '0', 'invalid_size'],
  ['VC', '6.01', 'price_by_hand'],
  ['nothing of the kind', '1', 'price_by_hand'],
])('%s measured at %s in is refused with %s', (family, inches, code) => {
  expect(bySize(family, inches)).toBe(code);
});

test('a missing rate is to be priced by hand, never zero', () => {
  expect(price({ kind: 'code', code: 'ZZ-9' })).toMatchObject({ code: 'price_by_hand' });
  const [rate] = demoBook.rates;
  if (!rate) throw new Error('no rate');
  expect(rateInForce([{ ...rate, listMinor: 0n }], rate.code, on)).toBeNull();
});

test('a price by hand needs a reason, which its trail does not tell: the account reads that', () => {
  expect(price({ kind: 'by_hand' })).toMatchObject({
    beforeFurtherMinor: 12000n,
    byHand: 'odd shape',
    beforeFurtherTrail: 'price for this repair 120.00',
  });
  expect(price({ kind: 'by_hand', reason: '  ' })).toMatchObject({ code: 'invalid_input', field: 'reason' });
  expect(price({ kind: 'by_hand', priceMinor: 0n })).toMatchObject({ code: 'invalid_money' });
  expect(price({ kind: 'by_hand', priceMinor: -5n })).toMatchObject({ code: 'invalid_money' });
});

test('a care factor counts only on repairs that take the further-repair discount', () => {
  expect(price({ kind: 'code', code: 'CM-1', careFactors: ['new'] })).toMatchObject({
    beforeFurtherMinor: 4500n,
  });
  expect(price({ kind: 'code', code: 'BN-M', careFactors: ['new'] })).toMatchObject({
    afterFactorMinor: 25850n,
    beforeFurtherTrail: 'list 235.00, new car × 110 % → 258.50, retail, no discount → 258.50',
  });
  expect(price({ kind: 'code', code: 'BN-M', careFactors: ['gold'] })).toMatchObject({
    code: 'invalid_input',
  });
});

test('the account’s own price replaces list, factor and tier, and still takes the further-repair discount', () => {
  const { buyer } = demoAccount('DR');
  const own = price({ kind: 'code', code: 'BN-S', careFactors: ['new'] }, buyer);
  expect(own).toMatchObject({ beforeFurtherMinor: 9000n });
  const result = priceLine(
    {
      kind: 'code',
      lineId: demoLineId(1),
      code: 'BN-S',
      part: null,
      material: null,
      careFactors: [],
    },
    demoBook,
    buyer,
    day('2026-06-30'),
  );
  // The day before the own price began: 125.00 less 15 %.
  expect(result.ok && result.value.beforeFurtherMinor).toBe(10625n);
});

test('an unexpired estimate keeps the rates of its own date, an expired one does not', () => {
  const estimate = { madeOn: day('2026-07-01'), expiresOn: day('2026-07-31') };
  expect(rateDay(day('2026-07-31'), estimate)).toBe('2026-07-01');
  expect(rateDay(day('2026-08-01'), estimate)).toBe('2026-08-01');
  expect(rateDay(day('2026-08-01'), null)).toBe('2026-08-01');
});

test('of rates and terms the one in force counts', () => {
  const [rate] = demoBook.rates;
  if (!rate) throw new Error('no rate');
  const next = { ...rate, listMinor: 99900n, inForce: { from: day('2026-09-01'), to: null } };
  const rates = [next, { ...rate, inForce: { from: day('2026-01-01'), to: day('2026-08-31') } }];
  expect(rateInForce(rates, rate.code, day('2026-08-31'))?.listMinor).toBe(rate.listMinor);
  expect(rateInForce(rates, rate.code, day('2026-09-01'))?.listMinor).toBe(99900n);
  expect(rateInForce(rates, rate.code, day('2025-12-31'))).toBeNull();
  expect(() => termsInForce([demoTerms], day('2025-12-31'))).toThrow('2025-12-31');
});

function lotLines(...codes: string[]) {
  return codes.map((code, index) => {
    const lineId = demoLineId(index + 1);
    const line = { kind: 'code', lineId, code, part: null, material: null, careFactors: [] } as const;
    const result = priceLine(line, demoBook, demoAccount('PL').buyer, on);
    if (!result.ok) throw new Error(result.problem.detail);
    return result.value;
  });
}

const lotRules = vehicleRules(demoTiers.lot, demoTerms);

test('equal prices count in the order written', () => {
  const nets = priceVehicle(lotLines('FB-S', 'FB-S'), lotRules).lines.map((line) => line.netMinor);
  expect(nets).toEqual([4675n, 4208n]);
});

test('a rework is without charge and has no minimum, and a vehicle without lines has none', () => {
  const rework = priceVehicle(lotLines('SC-S'), vehicleRules(demoTiers.lot, demoTerms, true));
  expect(rework).toMatchObject({ minimum: null, repairsMinor: 0n, laborMinor: 0n });
  expect(rework.lines[0]?.trail).toMatch(/rework without charge → 0\.00$/);
  expect(priceVehicle([], lotRules)).toMatchObject({ minimum: null, repairsMinor: 0n });
});

test('a minimum says what it lifts', () => {
  expect(priceVehicle(lotLines('CP-M'), lotRules).minimum).toEqual({
    code: 'MIN',
    netMinor: 1275n,
    trail: 'vehicle minimum 65.00, repairs 52.25 → 12.75',
  });
});

test('a version prices again from itself alone, once with all lines and once with none', () => {
  const version = { ...priceVehicle(lotLines('PU-L', 'SC-M'), lotRules), rules: lotRules };
  const all = repriceApproved(version, [demoLineId(2), demoLineId(1)]);
  expect(all.ok && all.value.lines).toEqual(version.lines);
  const none = repriceApproved(version, []);
  expect(none.ok && none.value.repairsMinor).toBe(0n);
  expect(repriceApproved(version, [demoLineId(9)])).toMatchObject({ problem: { code: 'invalid_input' } });
});

const facts = { miles: decimal('24'), afterHours: false, rush: false, walkIn: false };

test('the trip is waived from the tier’s threshold on, its further miles never', () => {
  const trip = (repairsMinor: bigint) => priceVisit([{ repairsMinor }], facts, demoTiers.lot, demoTerms).trip;
  expect(trip(30000n)).toMatchObject({
    amountMinor: 600n,
    trail: 'trip waived from 300.00 of repairs, 4 mi further at 1.50 → 6.00',
  });
  expect(trip(29999n)).toMatchObject({ amountMinor: 5100n });
  const far = priceVisit([{ repairsMinor: 10_000_000n }], facts, demoTiers.retail, demoTerms).trip;
  expect(far).toMatchObject({ baseMinor: 4500n });
});

test('a walk-in has no trip, and a visit without a charged repair has neither trip nor after-hours', () => {
  const walkIn = priceVisit(
    [{ repairsMinor: 100n }],
    { ...facts, walkIn: true },
    demoTiers.retail,
    demoTerms,
  );
  expect(walkIn.trip).toBeNull();
  const rework = priceVisit([{ repairsMinor: 0n }], { ...facts, afterHours: true }, demoTiers.lot, demoTerms);
  expect(rework).toMatchObject({ trip: null, afterHours: null, netMinor: 0n, limitMinor: 0n });
  expect(() =>
    priceVisit([{ repairsMinor: 1n }], { ...facts, miles: decimal('-1') }, demoTiers.lot, demoTerms),
  ).toThrow();
});

test('after-hours is at least its minimum and is shared over the vehicles to the cent', () => {
  const visit = priceVisit(
    [{ repairsMinor: 6500n }, { repairsMinor: 6500n }, { repairsMinor: 6500n }],
    { ...facts, afterHours: true },
    demoTiers.lot,
    { ...demoTerms, afterHoursMinimumMinor: 10000n },
  );
  expect(visit.afterHours?.trail).toBe('after hours 25 % of 195.00, at least 100.00 → 100.00');
  expect(visit.afterHoursByVehicleMinor).toEqual([3334n, 3333n, 3333n]);
  expect(visit.limitByVehicleMinor).toEqual([9834n, 9833n, 9833n]);
  expect(visit.limitMinor).toBe(29500n);
});

test.each([
  [19999n, 0n],
  [20000n, 10000n],
  [20001n, 11000n],
  [24000n, 12000n],
  [23963n, 12000n],
])('an estimate of %s cents asks for a deposit of %s', (total, deposit) => {
  expect(depositMinor(total, demoTerms)).toBe(deposit);
});

test('a deposit never exceeds the total', () => {
  expect(depositMinor(21000n, { ...demoTerms, depositStepMinor: 50000n })).toBe(21000n);
});

test('savings are negative where the repair costs more, and absent without a quote', () => {
  expect(savings(10000n, 12500n)).toEqual({ savedMinor: -2500n, percent: decimal('-25.0') });
  expect(savings(0n, 12500n)).toBeNull();
});
