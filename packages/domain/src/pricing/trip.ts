import { compareDecimals, type Decimal, formatDecimal, subtractDecimals } from '../money/decimal.ts';
import { formatMinor, timesHalfUp } from '../money/money.ts';
import type { PriceTerms, Tier } from './price-book.ts';

export interface TripCharge {
  /** Zero when waived. */
  readonly baseMinor: bigint;
  readonly milesMinor: bigint;
  readonly amountMinor: bigint;
  readonly trail: string;
}

export type TripTerms = Pick<PriceTerms, 'tripMinor' | 'milesIncluded' | 'mileMinor' | 'tripZones'>;

/**
 * What it costs to come: an amount, and every mile beyond those that it includes. Where the terms have zones, the first
 * one that reaches the place says both; beyond the last one that one does. The amount is waived from the tier's
 * threshold of repairs on, the miles never.
 */
export function tripCharge(
  repairsMinor: bigint,
  miles: Decimal,
  tier: Pick<Tier, 'tripWaivedFromMinor'>,
  terms: TripTerms,
): TripCharge {
  if (miles.digits < 0n) throw new Error('miles are negative');
  const base = tripBase(miles, terms);
  const waivedFrom = tier.tripWaivedFromMinor;
  const waived = waivedFrom !== null && repairsMinor >= waivedFrom;
  const baseMinor = waived ? 0n : base.amountMinor;
  const beyond = subtractDecimals(miles, base.miles);
  const milesMinor = compareDecimals(miles, base.miles) > 0 ? timesHalfUp(terms.mileMinor, beyond) : 0n;
  const baseWords =
    waivedFrom !== null && waived
      ? `${base.words} waived from ${formatMinor(waivedFrom)} of repairs`
      : `${base.words} ${formatMinor(baseMinor)}`;
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

interface TripBase {
  readonly words: string;
  readonly amountMinor: bigint;
  /** The miles that the amount includes. */
  readonly miles: Decimal;
}

function tripBase(miles: Decimal, { tripMinor, milesIncluded, tripZones }: TripTerms): TripBase {
  const zone = tripZones.find((each) => compareDecimals(miles, each.upToMiles) <= 0) ?? tripZones.at(-1);
  if (zone === undefined) return { words: 'trip', amountMinor: tripMinor, miles: milesIncluded };
  const words = `trip zone “${zone.name}” up to ${formatDecimal(zone.upToMiles)} mi`;
  return { words, amountMinor: zone.amountMinor, miles: zone.upToMiles };
}
