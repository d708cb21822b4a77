import { allocate } from '../money/allocation.ts';
import { compareDecimals, type Decimal, formatDecimal, subtractDecimals } from '../money/decimal.ts';
import { displayPercent, formatMinor, roundHalfUp, sumMinor, timesHalfUp } from '../money/money.ts';
import type { PriceTerms, Tier } from './price-book.ts';
import type { VehiclePrice } from './price-vehicle.ts';

export interface VisitFacts {
  /** One way, from the business to where the vehicles stand. */
  readonly miles: Decimal;
  readonly afterHours: boolean;
  /** The vehicle came to the business: there is no trip. */
  readonly walkIn: boolean;
}

/** A charge for coming after hours; all of it is labor. */
export interface AfterHoursCharge {
  readonly percent: Decimal;
  readonly minimumMinor: bigint;
  readonly amountMinor: bigint;
  readonly trail: string;
  /** Where an invoice that was credited held less than the rule makes of its repairs: what it held, of which. */
  readonly share?: { readonly amountMinor: bigint; readonly repairsMinor: bigint };
}

export interface TripCharge {
  /** Zero when waived. */
  readonly baseMinor: bigint;
  readonly milesMinor: bigint;
  readonly amountMinor: bigint;
  readonly trail: string;
}

export interface VisitPrice {
  readonly repairsMinor: bigint;
  /** Null on a visit within hours, or without anything charged. */
  readonly afterHours: AfterHoursCharge | null;
  /** Null for a walk-in, or without anything charged. */
  readonly trip: TripCharge | null;
  /** After-hours of each vehicle, in the order given; they add up to the charge. */
  readonly afterHoursByVehicleMinor: readonly bigint[];
  /** What a limit per vehicle is compared with, in the order given. */
  readonly limitByVehicleMinor: readonly bigint[];
  /** What a limit per visit is compared with. */
  readonly limitMinor: bigint;
  /** Repairs, after-hours and trip, before tax. */
  readonly netMinor: bigint;
}

/**
 * Price rules 7, 8 and 11 over the vehicles of one visit: after-hours as a percent of repairs with its minimum,
 * shared over vehicles by largest remainder; the trip once, its base waived from the tier's threshold of
 * repairs, miles beyond those included always added. Repairs include vehicle minimums. A visit that charges no
 * repair (a rework, everything declined) has neither. Common practice of the trade.
 */
export function priceVisit(
  vehicles: readonly Pick<VehiclePrice, 'repairsMinor'>[],
  visit: VisitFacts,
  tier: Pick<Tier, 'tripWaivedFromMinor'>,
  terms: PriceTerms,
): VisitPrice {
  const byVehicle = vehicles.map((vehicle) => vehicle.repairsMinor);
  const repairsMinor = sumMinor(byVehicle);
  const charged = repairsMinor > 0n;
  const afterHours = visit.afterHours && charged ? afterHoursCharge(repairsMinor, terms) : null;
  const trip = !visit.walkIn && charged ? tripCharge(repairsMinor, visit.miles, tier, terms) : null;
  const afterHoursByVehicleMinor = allocate(afterHours?.amountMinor ?? 0n, byVehicle);
  const limitByVehicleMinor = byVehicle.map((minor, index) =>
    limitAmount(minor, afterHoursByVehicleMinor[index] ?? 0n),
  );
  return {
    repairsMinor,
    afterHours,
    trip,
    afterHoursByVehicleMinor,
    limitByVehicleMinor,
    limitMinor: sumMinor(limitByVehicleMinor),
    netMinor: repairsMinor + (afterHours?.amountMinor ?? 0n) + (trip?.amountMinor ?? 0n),
  };
}

/** Price rule 11: a limit looks at repairs with their minimum and after-hours, before trip and tax. */
export function limitAmount(repairsMinor: bigint, afterHoursMinor: bigint): bigint {
  return repairsMinor + afterHoursMinor;
}

/** Price rule 7 on its own: percent of repairs (rounded), at least the minimum; zero where nothing is charged. */
export function afterHoursFor(
  repairsMinor: bigint,
  rule: { readonly percent: Decimal; readonly minimumMinor: bigint },
): bigint {
  if (repairsMinor <= 0n) return 0n;
  const share = roundHalfUp(repairsMinor, rule.percent);
  if (share < rule.minimumMinor) return rule.minimumMinor;
  return share;
}

function afterHoursCharge(repairsMinor: bigint, terms: PriceTerms): AfterHoursCharge {
  const rule = { percent: terms.afterHoursPercent, minimumMinor: terms.afterHoursMinimumMinor };
  const amountMinor = afterHoursFor(repairsMinor, rule);
  const share = `after hours ${displayPercent(rule.percent)} of ${formatMinor(repairsMinor)}`;
  const atLeast =
    amountMinor === roundHalfUp(repairsMinor, rule.percent)
      ? ''
      : `, at least ${formatMinor(rule.minimumMinor)}`;
  return { ...rule, amountMinor, trail: `${share}${atLeast} → ${formatMinor(amountMinor)}` };
}

function tripCharge(
  repairsMinor: bigint,
  miles: Decimal,
  tier: Pick<Tier, 'tripWaivedFromMinor'>,
  terms: PriceTerms,
): TripCharge {
  if (miles.digits < 0n) throw new Error('miles are negative');
  const waivedFrom = tier.tripWaivedFromMinor;
  const waived = waivedFrom !== null && repairsMinor >= waivedFrom;
  const baseMinor = waived ? 0n : terms.tripMinor;
  const beyond = subtractDecimals(miles, terms.milesIncluded);
  const milesMinor =
    compareDecimals(miles, terms.milesIncluded) > 0 ? timesHalfUp(terms.mileMinor, beyond) : 0n;
  const baseWords =
    waivedFrom !== null && waived
      ? `trip waived from ${formatMinor(waivedFrom)} of repairs`
      : `trip ${formatMinor(baseMinor)}`;
  const mileWords =
    milesMinor === 0n ? '' : `, ${formatDecimal(beyond)} mi further at ${formatMinor(terms.mileMinor)}`;
  const amountMinor = baseMinor + milesMinor;
  return {
    baseMinor,
    milesMinor,
    amountMinor,
    trail: `${baseWords}${mileWords} → ${formatMinor(amountMinor)}`,
  };
}
