import fc from 'fast-check';
import { buildInvoice, type Invoice } from '../billing/invoice.ts';
import { addDays, day } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';
import type { TaxRounding, TaxSetup } from '../tax/tax-setup.ts';
import { demoLineId, demoTerms, demoVisitId, demoWorkOrderId } from './demo-figures.ts';
import type { Buyer, PriceBook, PriceTerms, Tier } from './price-book.ts';
import { type PricedLine, priceLine } from './price-line.ts';
import { priceVehicle, repriceApproved, type VehiclePrice, vehicleRules } from './price-vehicle.ts';
import { priceVisit, type VisitFacts, type VisitPrice } from './price-visit.ts';

/** The day from which on the later prices count. */
const changeover = day('2026-08-05');
const earlier = { from: day('2026-01-01'), to: addDays(changeover, -1) };
const later = { from: changeover, to: null };

const share: fc.Arbitrary<Decimal> = fc.bigInt(0n, 10_000n).map((digits) => ({ digits, scale: 2 }));
const surchargePercent: fc.Arbitrary<Decimal> = fc
  .bigInt(0n, 30_000n)
  .map((digits) => ({ digits, scale: 2 }));
const miles: fc.Arbitrary<Decimal> = fc.bigInt(0n, 2_000n).map((digits) => ({ digits, scale: 1 }));

export const anyTier: fc.Arbitrary<Tier> = fc
  .record({
    code: fc.constant('t'),
    name: fc.constant('tier'),
    discountPercent: share,
    vehicleMinimumMinor: fc.bigInt(0n, 50_000n),
    aboveMinimumMinor: fc.option(fc.bigInt(0n, 200_000n)),
    visitMinimumMinor: fc.bigInt(0n, 90_000n),
    tripWaivedFromMinor: fc.option(fc.bigInt(1n, 100_000n)),
  })
  .map(({ aboveMinimumMinor, ...tier }) => ({
    ...tier,
    vehicleCapMinor: aboveMinimumMinor === null ? null : tier.vehicleMinimumMinor + aboveMinimumMinor + 1n,
  }));

const zones = fc
  .array(fc.record({ miles: fc.bigInt(1n, 300n), amountMinor: fc.bigInt(0n, 20_000n) }), { maxLength: 4 })
  .map((steps) => {
    let farthest = 0n;
    return steps.map(({ miles: further, amountMinor }, index) => {
      farthest += further;
      return { name: `zone ${index + 1}`, upToMiles: { digits: farthest, scale: 1 }, amountMinor };
    });
  });

/** Percents as they may be set: a further repair never takes more of its price than the one before. */
const furtherRepairPercents = fc
  .array(fc.bigInt(0n, 10_000n), { minLength: 1, maxLength: 4 })
  .map((all) => all.toSorted((a, b) => (a > b ? -1 : a < b ? 1 : 0)).map((digits) => ({ digits, scale: 2 })));

export const anyTerms: fc.Arbitrary<PriceTerms> = fc
  .record({
    furtherRepairPercents,
    tripMinor: fc.bigInt(0n, 10_000n),
    milesIncluded: miles,
    mileMinor: fc.bigInt(0n, 1_000n),
    tripZones: zones,
    afterHoursPercent: surchargePercent,
    afterHoursMinimumMinor: fc.bigInt(0n, 10_000n),
    rushPercent: surchargePercent,
    rushMinimumMinor: fc.bigInt(0n, 10_000n),
  })
  .map((terms) => ({ ...demoTerms, ...terms }));

const anyRepair = fc.record({
  listMinor: fc.bigInt(1n, 500_000n),
  /** From the changeover on. */
  laterMinor: fc.bigInt(1n, 500_000n),
  materialsPercent: share,
  takesFurtherRepair: fc.boolean(),
  factorPercent: fc.bigInt(1n, 30_000n).map((digits) => ({ digits, scale: 2 })),
  byHandMinor: fc.option(fc.bigInt(1n, 500_000n), { freq: 8 }),
  approved: fc.boolean(),
});
type AnyRepair = typeof anyRepair extends fc.Arbitrary<infer T> ? T : never;

const anyBuyer = fc.record({
  /** The account's own price until the changeover. */
  ownMinor: fc.option(fc.bigInt(1n, 500_000n), { freq: 4 }),
  contractPercent: fc.option(share, { freq: 4 }),
  tierPriceMinor: fc.option(fc.bigInt(1n, 500_000n), { freq: 4 }),
});

const taxSetup: fc.Arbitrary<TaxSetup> = fc.record({
  areaCode: fc.constant('A'),
  areaName: fc.constant('Place'),
  inForce: fc.constant({ from: day('2026-01-01'), to: null }),
  components: fc.constantFrom(
    [],
    [{ name: 'State', ratePercent: { digits: 55n, scale: 1 } }],
    [
      { name: 'State', ratePercent: { digits: 5n, scale: 0 } },
      { name: 'Local', ratePercent: { digits: 125n, scale: 2 } },
    ],
  ),
  taxableClasses: fc.subarray(['labor', 'materials', 'trip', 'fee'] as const),
});

/** Any tier and terms, prices that change in the middle, vehicles with lines declined or without charge. */
export const anyVisit = fc.record({
  tier: anyTier,
  terms: anyTerms,
  buyer: anyBuyer,
  vehicles: fc.array(
    fc.record({
      repairs: fc.array(anyRepair, { maxLength: 6 }),
      rework: fc.boolean(),
    }),
    { maxLength: 5 },
  ),
  facts: fc.record<VisitFacts>({ miles, afterHours: fc.boolean(), rush: fc.boolean(), walkIn: fc.boolean() }),
  daysAfterChange: fc.integer({ min: -30, max: 30 }),
  taxSetup,
  taxRounding: fc.record<TaxRounding>({
    components: fc.constantFrom('each', 'together'),
    basis: fc.constantFrom('invoice', 'item'),
  }),
});
export type AnyVisit = typeof anyVisit extends fc.Arbitrary<infer T> ? T : never;

export interface VisitPriced {
  /** As offered, all lines. */
  readonly offered: readonly VehiclePrice[];
  /** With the lines approved. */
  readonly vehicles: readonly VehiclePrice[];
  readonly visit: VisitPrice;
  readonly invoice: Invoice;
}

/** Prices it as the program does, from the price book to the invoice. */
export function priceAnyVisit(written: AnyVisit): VisitPriced {
  const { tier, terms, facts, taxSetup: setup, taxRounding } = written;
  const lines = written.vehicles.map((vehicle, place) =>
    vehicle.repairs.map((repair, index) => linePriced(repair, place * 10 + index, written)),
  );
  const rules = written.vehicles.map((vehicle) => vehicleRules(tier, terms, vehicle.rework));
  const offered = written.vehicles.map((_vehicle, place) => priceVehicle(at(lines, place), at(rules, place)));
  const vehicles = written.vehicles.map((vehicle, place) => {
    const approved = vehicle.repairs.flatMap((repair, index) =>
      repair.approved ? [demoLineId(place * 10 + index)] : [],
    );
    const result = repriceApproved({ lines: at(lines, place), rules: at(rules, place) }, approved);
    if (!result.ok) throw new Error(result.problem.detail);
    return result.value;
  });
  const visit = priceVisit(vehicles, facts, tier, terms);
  const { afterHours, rush, minimum, trip } = visit;
  const billed = vehicles.map((price, place) => ({
    workOrderId: demoWorkOrderId(place + 1),
    label: `vehicle ${place + 1}`,
    price,
  }));
  const invoice = buildInvoice({
    visits: [
      {
        visitId: demoVisitId(1),
        dateOfWork: changeover,
        taxSetup: setup,
        vehicles: billed,
        afterHours,
        rush,
        minimum,
        trip,
        fees: [],
      },
    ],
    certificates: [],
    taxRounding,
    prepaidMinor: 0n,
  });
  return { offered, vehicles, visit, invoice };
}

function linePriced(
  repair: AnyRepair,
  number: number,
  { tier, buyer, daysAfterChange }: AnyVisit,
): PricedLine {
  const { listMinor, laterMinor, materialsPercent, takesFurtherRepair, factorPercent } = repair;
  const rate = { code: 'R', repair: 'R', family: 'R', band: null, part: null, material: null };
  const shared = { ...rate, materialsPercent, takesFurtherRepair };
  const book: PriceBook = {
    rates: [
      { ...shared, listMinor, inForce: earlier },
      { ...shared, listMinor: laterMinor, inForce: later },
    ],
    factors: [
      { code: 'f', name: 'factor', percent: factorPercent, inForce: { ...later, from: earlier.from } },
    ],
    terms: [],
  };
  const lineId = demoLineId(number);
  const line =
    repair.byHandMinor === null
      ? ({ kind: 'code', lineId, code: 'R', careFactors: ['f'], part: null, material: null } as const)
      : ({
          kind: 'by_hand',
          lineId,
          code: 'R',
          repair: 'R',
          priceMinor: repair.byHandMinor,
          reason: 'odd shape',
          materialsPercent,
          takesFurtherRepair,
        } as const);
  const result = priceLine(line, book, buyerOf(tier, buyer), addDays(changeover, daysAfterChange));
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

function buyerOf(tier: Tier, { ownMinor, contractPercent, tierPriceMinor }: AnyVisit['buyer']): Buyer {
  return {
    tier,
    accountPrices: ownMinor === null ? [] : [{ code: 'R', priceMinor: ownMinor, inForce: earlier }],
    contracts:
      contractPercent === null ? [] : [{ name: 'one', discountPercent: contractPercent, inForce: earlier }],
    tierPrices: tierPriceMinor === null ? [] : [{ code: 'R', priceMinor: tierPriceMinor, inForce: later }],
  };
}

function at<T>(list: readonly T[], index: number): T {
  const found = list[index];
  if (found === undefined) throw new Error('no such vehicle');
  return found;
}
