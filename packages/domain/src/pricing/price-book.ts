import type { Period } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';

/** A repair's rate at list, in force for a period. Amounts are minor units of the tenant's currency. */
export interface Rate {
  readonly code: string;
  readonly repair: string;
  /** Rates that differ only by size share a family; the band of the measured size picks one. */
  readonly family: string;
  /** Sizes in inches it covers: over `overInches`, up to and including `toInches`. Null where nothing is measured. */
  readonly band: { readonly overInches: Decimal; readonly toInches: Decimal } | null;
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

/** The numbers in the price rules that are not by repair or by tier, dated as a whole. */
export interface PriceTerms {
  readonly inForce: Period;
  /** Percent of the first, second, third and every further repair on a vehicle, e.g. 100, 90, 80. */
  readonly furtherRepairPercents: readonly Decimal[];
  readonly tripMinor: bigint;
  readonly milesIncluded: Decimal;
  readonly mileMinor: bigint;
  readonly afterHoursPercent: Decimal;
  readonly afterHoursMinimumMinor: bigint;
  readonly depositFromMinor: bigint;
  readonly depositPercent: Decimal;
  readonly depositStepMinor: bigint;
}

export interface PriceBook {
  readonly rates: readonly Rate[];
  readonly factors: readonly DatedCareFactor[];
  readonly terms: readonly PriceTerms[];
}

/** Who buys: the tier and the account's own prices. */
export interface Buyer {
  readonly tier: Tier;
  readonly accountPrices: readonly AccountPrice[];
}
