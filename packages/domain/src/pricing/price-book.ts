import type { Period } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';
import type { VehiclePart } from '../work/damage.ts';
import type { Material } from '../work/material.ts';

/** A repair's rate at list, in force for a period. Amounts are minor units of the tenant's currency. */
export interface Rate {
  readonly code: string;
  readonly repair: string;
  /** Rates that differ only by size share a family; the band of the measured size picks one. */
  readonly family: string;
  /** Sizes in inches it covers: over `overInches`, up to and including `toInches`. Null where nothing is measured. */
  readonly band: { readonly overInches: Decimal; readonly toInches: Decimal } | null;
  /** The only part it is for; null: any. */
  readonly part: VehiclePart | null;
  /** The only material it is for, as settled after the heat test; null: any, also one that is not known. */
  readonly material: Material | null;
  readonly listMinor: bigint;
  readonly materialsPercent: Decimal;
  /** Whether care factors and the further-repair discount apply. */
  readonly takesFurtherRepair: boolean;
  readonly inForce: Period;
}

/** What makes a repair dearer: a new car, perforated leather, soft-touch plastic, TPU. 110 means × 1.10. */
export interface CareFactor {
  readonly code: string;
  readonly name: string;
  readonly percent: Decimal;
}

/** A care factor as it counts for a period. */
export interface DatedCareFactor extends CareFactor {
  readonly inForce: Period;
}

/** A class of customer: the discount off list, the minimum per vehicle, and when the trip charge is waived. */
export interface Tier {
  readonly code: string;
  readonly name: string;
  readonly discountPercent: Decimal;
  readonly vehicleMinimumMinor: bigint;
  /** The most that a vehicle's repairs come to; null: no such limit. Never below the vehicle's minimum. */
  readonly vehicleCapMinor: bigint | null;
  /** What a visit's repairs come to at least; zero: no such minimum. */
  readonly visitMinimumMinor: bigint;
  /** Repairs of a visit from which on the trip charge is waived; null: never waived. */
  readonly tripWaivedFromMinor: bigint | null;
}

/** A tier's terms as they hold for a period. */
export interface DatedTier extends Tier {
  readonly inForce: Period;
}

/** One account's own price for a repair: it replaces list, factor and tier. */
export interface AccountPrice {
  readonly code: string;
  readonly priceMinor: bigint;
  readonly inForce: Period;
}

/** A tier's own price for a repair: for its accounts it replaces list, factor and discount. */
export interface TierPrice {
  readonly code: string;
  readonly priceMinor: bigint;
  readonly inForce: Period;
}

/** What was agreed with one account for a time: a discount off list, after factors, instead of its tier's terms. */
export interface Contract {
  readonly name: string;
  readonly discountPercent: Decimal;
  readonly inForce: Period;
}

/** How far a place may be for a trip to it to cost this much. */
export interface TripZone {
  readonly name: string;
  /** The farthest that it reaches, one way. */
  readonly upToMiles: Decimal;
  readonly amountMinor: bigint;
}

/** The numbers in the price rules that are not by repair or by tier, dated as a whole. */
export interface PriceTerms {
  readonly inForce: Period;
  /** Percent of the first, second, third and every further repair on a vehicle, e.g. 100, 90, 80. */
  readonly furtherRepairPercents: readonly Decimal[];
  readonly tripMinor: bigint;
  readonly milesIncluded: Decimal;
  readonly mileMinor: bigint;
  /** From near to far; where there are any, they stand in for the trip's amount and the miles included. */
  readonly tripZones: readonly TripZone[];
  readonly afterHoursPercent: Decimal;
  readonly afterHoursMinimumMinor: bigint;
  /** For coming within the day; zero percent and a minimum of zero: without charge. */
  readonly rushPercent: Decimal;
  readonly rushMinimumMinor: bigint;
  readonly depositFromMinor: bigint;
  readonly depositPercent: Decimal;
  readonly depositStepMinor: bigint;
}

export interface PriceBook {
  readonly rates: readonly Rate[];
  readonly factors: readonly DatedCareFactor[];
  readonly terms: readonly PriceTerms[];
}

/** Who buys: the tier with its own prices, the account's contracts and its own prices. */
export interface Buyer {
  readonly tier: Tier;
  readonly tierPrices: readonly TierPrice[];
  readonly contracts: readonly Contract[];
  readonly accountPrices: readonly AccountPrice[];
}
