import { expect, test } from 'vitest';
import { addDays, day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import type { VehiclePart } from '../work/damage.ts';
import type { Material } from '../work/material.ts';
import { demoBook, demoLineId, demoTiers } from './demo-figures.ts';
import { familyInBook, rateOfFamily } from './in-force.ts';
import type { Buyer, Rate } from './price-book.ts';
import { type LineToPrice, priceLine } from './price-line.ts';

// Common practice of the trade, no source. The figures are worked out by hand from the invented price book: VC-M lists
// at 195.00, Trade is 15 % off (165.75), a new car × 110 % is 214.50.

const on = day('2026-08-05');
const always = { from: day('2026-01-01'), to: null };

function rateOf(code: string): Rate {
  const rate = demoBook.rates.find((each) => each.code === code);
  if (rate === undefined) throw new Error(`no rate ${code}`);
  return rate;
}

const general = rateOf('VC-M');
const onPart: Rate = { ...general, code: 'VC-MP', part: 'dash', listMinor: 24000n };
const onMaterial: Rate = { ...general, code: 'VC-MM', material: 'tpu', listMinor: 23000n };
const onBoth: Rate = { ...general, code: 'VC-MB', part: 'dash', material: 'tpu', listMinor: 26000n };
const withAll = [...demoBook.rates, onPart, onMaterial, onBoth];

function chosen(
  rates: readonly Rate[],
  part: VehiclePart | null,
  material: Material | null,
  inches = '2',
): string {
  const line = { family: 'VC', sizeInches: decimal(inches), part, material };
  const found = rateOfFamily(rates, line, on);
  return found.ok ? found.value.code : found.problem.code;
}

test.each([
  ['dash', 'tpu', 'VC-MB'],
  ['dash', 'leather', 'VC-MP'],
  ['dash', null, 'VC-MP'],
  ['seat_back', 'tpu', 'VC-MM'],
  ['seat_back', 'leather', 'VC-M'],
  ['seat_back', null, 'VC-M'],
] as const)('on %s of %s the rate that says the most about it counts: %s', (part, material, code) => {
  expect(chosen(withAll, part, material)).toBe(code);
  expect(chosen(withAll.toReversed(), part, material)).toBe(code);
});

test('the part goes before the material where a rate names one of them each', () => {
  const rates = withAll.filter((rate) => rate !== onBoth);
  expect(chosen(rates, 'dash', 'tpu')).toBe('VC-MP');
});

test('a rate for the part counts within its sizes only; outside them the rate for any part does', () => {
  expect(chosen(withAll, 'dash', 'tpu', '4')).toBe('VC-L');
  expect(chosen(withAll, 'dash', 'tpu', '6.01')).toBe('price_by_hand');
});

test('a combination that no rate is for is priced by hand, never at zero, and the sentence names it', () => {
  const line = { family: 'VC', sizeInches: decimal('2'), part: 'armrest', material: 'leather' } as const;
  const found = rateOfFamily([onPart, onMaterial, onBoth], line, on);
  if (found.ok) throw new Error('there is a rate');
  expect(found.problem).toMatchObject({ code: 'price_by_hand', field: 'repair' });
  expect(found.problem.detail).toContain('“VC” on armrest, leather');
});

test('a rate named by its code never applies to another part or material', () => {
  const book = { ...demoBook, rates: withAll };
  const named = (code: string, part: VehiclePart, material: Material | null) => {
    const line: LineToPrice = {
      kind: 'code',
      lineId: demoLineId(1),
      code,
      part,
      material,
      careFactors: [],
    };
    const priced = priceLine(line, book, buyer({}), on);
    return priced.ok ? priced.value.listMinor : priced.problem.code;
  };
  expect(named('VC-MP', 'dash', null)).toBe(24000n);
  expect(named('VC-MP', 'armrest', 'tpu')).toBe('price_by_hand');
  expect(named('VC-MM', 'dash', 'tpu')).toBe(23000n);
  expect(named('VC-MM', 'dash', null)).toBe('price_by_hand');
  expect(named('VC-MB', 'dash', 'leather')).toBe('price_by_hand');
  expect(named('VC-M', 'dash', 'tpu')).toBe(19500n);
});

function buyer(own: Partial<Omit<Buyer, 'tier'>>): Buyer {
  return {
    tier: { ...demoTiers.trade, name: 'trade' },
    tierPrices: [],
    contracts: [],
    accountPrices: [],
    ...own,
  };
}

function priced(own: Partial<Omit<Buyer, 'tier'>>, careFactors: readonly string[] = [], at = on) {
  const line: LineToPrice = {
    kind: 'code',
    lineId: demoLineId(1),
    code: 'VC-M',
    part: 'tailgate_lining',
    material: 'foam_backed_vinyl',
    careFactors,
  };
  const result = priceLine(line, demoBook, buyer(own), at);
  if (!result.ok) throw new Error(result.problem.detail);
  return [result.value.beforeFurtherMinor, result.value.beforeFurtherTrail];
}

const tierPrices = [{ code: 'VC-M', priceMinor: 15000n, inForce: always }];
const contracts = [{ name: 'Autumn 2026', discountPercent: decimal('20'), inForce: always }];
const accountPrices = [{ code: 'VC-M', priceMinor: 14000n, inForce: always }];

test('the account’s own price goes before its contract, that before the tier’s price, that before its discount', () => {
  expect(priced({})).toEqual([16575n, 'list 195.00, trade −15 % → 165.75']);
  expect(priced({ tierPrices })).toEqual([15000n, 'list 195.00, trade price → 150.00']);
  // 195.00 less 20 % = 156.00.
  expect(priced({ tierPrices, contracts })).toEqual([
    15600n,
    'list 195.00, contract “Autumn 2026” −20 % → 156.00',
  ]);
  expect(priced({ tierPrices, contracts, accountPrices })).toEqual([
    14000n,
    'list 195.00, account’s own price → 140.00',
  ]);
});

test('a contract takes its share off list with care factors; own prices replace those too', () => {
  // 195.00 × 1.10 = 214.50; less 20 % = 171.60; less 15 % = 182.33 (182.325).
  expect(priced({}, ['new'])).toEqual([
    18233n,
    'list 195.00, new car × 110 % → 214.50, trade −15 % → 182.33',
  ]);
  expect(priced({ contracts }, ['new'])).toEqual([
    17160n,
    'list 195.00, new car × 110 % → 214.50, contract “Autumn 2026” −20 % → 171.60',
  ]);
  expect(priced({ tierPrices }, ['new'])).toEqual([
    15000n,
    'list 195.00, new car × 110 % → 214.50, trade price → 150.00',
  ]);
});

test('contracts and tier prices count on their own days alone; between them the tier’s discount does', () => {
  const window = { from: day('2026-09-01'), to: day('2026-11-30') };
  const dated = {
    tierPrices: [{ code: 'VC-M', priceMinor: 15000n, inForce: window }],
    contracts: [{ name: 'Fall', discountPercent: decimal('40'), inForce: window }],
  };
  for (const [at, minor] of [
    [addDays(window.from, -1), 16575n],
    [window.from, 11700n],
    [window.to, 11700n],
    [addDays(window.to, 1), 16575n],
  ] as const)
    expect(priced(dated, [], at)[0]).toBe(minor);
  expect(priced({ tierPrices: [{ code: 'VC-L', priceMinor: 1n, inForce: always }] })[0]).toBe(16575n);
});

test('a family is found whatever the case it was written in; one spelled exactly goes first', () => {
  const book = [{ family: 'Vinyl Cut' }, { family: 'Vinyl cut' }];
  expect(familyInBook(book, 'Vinyl cut')).toBe('Vinyl cut');
  expect(familyInBook(book, ' VINYL CUT ')).toBe('Vinyl Cut');
  expect(familyInBook(book, 'Glovebox lid')).toBe('Glovebox lid');
});
