import { allocate } from '../money/allocation.ts';
import type { Decimal } from '../money/decimal.ts';
import { formatMinor, sumMinor } from '../money/money.ts';
import type { PriceTerms, Tier } from './price-book.ts';
import type { VehiclePrice } from './price-vehicle.ts';
import { type Surcharge, surcharge } from './surcharge.ts';
import { type TripCharge, tripCharge } from './trip.ts';

export interface VisitFacts {
  /** One way, from the business to where the vehicles stand. */
  readonly miles: Decimal;
  readonly afterHours: boolean;
  /** It was asked for within the day. */
  readonly rush: boolean;
  /** The vehicle came to the business: there is no trip. */
  readonly walkIn: boolean;
}

/** What lifts a visit to its minimum; all of it is labor. */
export interface VisitMinimum {
  readonly amountMinor: bigint;
  readonly trail: string;
}

/** What of a tier's terms prices a visit. */
export type VisitTier = Pick<Tier, 'tripWaivedFromMinor' | 'visitMinimumMinor'>;

export interface VisitPrice {
  readonly repairsMinor: bigint;
  /** Null on a visit within hours, or where it comes to nothing. */
  readonly afterHours: Surcharge | null;
  /** Null on a visit that was not asked for within the day, or where it comes to nothing. */
  readonly rush: Surcharge | null;
  /** Null where repairs reach the visit's minimum, or nothing is charged. */
  readonly minimum: VisitMinimum | null;
  /** Null for a walk-in, or without anything charged. */
  readonly trip: TripCharge | null;
  /** After-hours of each vehicle, in the order given; they add up to the charge. */
  readonly afterHoursByVehicleMinor: readonly bigint[];
  /** Rush of each vehicle, likewise. */
  readonly rushByVehicleMinor: readonly bigint[];
  /** What a limit per vehicle is compared with, in the order given. */
  readonly limitByVehicleMinor: readonly bigint[];
  /** What a limit per visit is compared with. */
  readonly limitMinor: bigint;
  /** Repairs, after-hours, rush, what lifts the visit to its minimum, and trip, before tax. */
  readonly netMinor: bigint;
}

/**
 * Price rules 7, 8 and 11 over the vehicles of one visit. Repairs include vehicle minimums. After-hours and rush are
 * each a percent of repairs with a minimum, rounded on its own and shared over vehicles by largest remainder. Repairs
 * below the visit's minimum are lifted to it once for the visit: neither a surcharge nor a limit per vehicle counts
 * what lifts them. The trip is once, its amount waived from the tier's threshold of repairs, miles beyond those
 * included always added. A visit that charges no repair (a rework, everything declined) has none of these. Common
 * practice of the trade.
 */
export function priceVisit(
  vehicles: readonly Pick<VehiclePrice, 'repairsMinor'>[],
  visit: VisitFacts,
  tier: VisitTier,
  terms: PriceTerms,
): VisitPrice {
  const byVehicle = vehicles.map((vehicle) => vehicle.repairsMinor);
  const repairsMinor = sumMinor(byVehicle);
  const afterHours = visit.afterHours ? surcharge('after hours', repairsMinor, afterHoursRule(terms)) : null;
  const rush = visit.rush ? surcharge('rush', repairsMinor, rushRule(terms)) : null;
  const minimum = visitMinimum(repairsMinor, tier);
  const trip =
    visit.walkIn || repairsMinor === 0n ? null : tripCharge(repairsMinor, visit.miles, tier, terms);
  const afterHoursByVehicleMinor = allocate(afterHours?.amountMinor ?? 0n, byVehicle);
  const rushByVehicleMinor = allocate(rush?.amountMinor ?? 0n, byVehicle);
  const limitByVehicleMinor = byVehicle.map((minor, index) =>
    limitAmount(minor, afterHoursByVehicleMinor[index] ?? 0n, rushByVehicleMinor[index] ?? 0n),
  );
  const limitMinor = sumMinor(limitByVehicleMinor);
  return {
    repairsMinor,
    afterHours,
    rush,
    minimum,
    trip,
    afterHoursByVehicleMinor,
    rushByVehicleMinor,
    limitByVehicleMinor,
    limitMinor,
    netMinor: limitMinor + (minimum?.amountMinor ?? 0n) + (trip?.amountMinor ?? 0n),
  };
}

/** Price rule 11: a limit looks at repairs with their minimum, after-hours and rush, before trip and tax. */
export function limitAmount(repairsMinor: bigint, afterHoursMinor: bigint, rushMinor: bigint): bigint {
  return repairsMinor + afterHoursMinor + rushMinor;
}

function afterHoursRule({ afterHoursPercent, afterHoursMinimumMinor }: PriceTerms) {
  return { percent: afterHoursPercent, minimumMinor: afterHoursMinimumMinor };
}

function rushRule({ rushPercent, rushMinimumMinor }: PriceTerms) {
  return { percent: rushPercent, minimumMinor: rushMinimumMinor };
}

function visitMinimum(repairsMinor: bigint, { visitMinimumMinor }: VisitTier): VisitMinimum | null {
  const amountMinor = visitMinimumMinor - repairsMinor;
  if (repairsMinor === 0n || amountMinor <= 0n) return null;
  const trail = `visit minimum ${formatMinor(visitMinimumMinor)}, repairs ${formatMinor(repairsMinor)} → ${formatMinor(amountMinor)}`;
  return { amountMinor, trail };
}
