import { contains, type Day, day, type Period } from '../dates.ts';
import { compareDecimals, type Decimal, formatDecimal } from '../money/decimal.ts';
import { ok, type Result, refuse } from '../result.ts';
import { type VehiclePart, vehicleParts } from '../work/damage.ts';
import { type Material, materials } from '../work/material.ts';
import type {
  AccountPrice,
  CareFactor,
  Contract,
  DatedCareFactor,
  DatedTier,
  PriceTerms,
  Rate,
  Tier,
  TierPrice,
} from './price-book.ts';

/**
 * The day whose rates count: the date of work, unless an estimate made earlier has not expired on it; that
 * keeps the rates of its own date. `expiresOn` is the last day the estimate holds.
 */
export function rateDay(
  dateOfWork: Day,
  estimate: { readonly madeOn: Day; readonly expiresOn: Day } | null,
): Day {
  return estimate !== null && dateOfWork <= estimate.expiresOn ? estimate.madeOn : dateOfWork;
}

/** The rate of a code on a day, or null where the book has none: such a line is priced by hand, never at zero. */
export function rateInForce(rates: readonly Rate[], code: string, on: Day): Rate | null {
  return latestInForce(
    rates.filter((rate) => rate.code === code && rate.listMinor > 0n),
    on,
  );
}

/** The account's own price of a code on a day, or null. */
export function accountPriceInForce(
  prices: readonly AccountPrice[],
  code: string,
  on: Day,
): AccountPrice | null {
  return latestInForce(
    prices.filter((price) => price.code === code),
    on,
  );
}

/** A tier's own price of a code on a day, or null: then its discount counts. */
export function tierPriceInForce(prices: readonly TierPrice[], code: string, on: Day): TierPrice | null {
  return latestInForce(
    prices.filter((price) => price.code === code),
    on,
  );
}

/** What was agreed with the account for a day, or null. */
export function contractInForce(contracts: readonly Contract[], on: Day): Contract | null {
  return latestInForce(contracts, on);
}

/** The first day of what holds from the start: before any work, so that no day is without a tier's terms. */
export const fromTheStart: Day = day('1900-01-01');

/** A care factor as it counts on a day, or null where the book has none of that code then. */
export function factorInForce(factors: readonly DatedCareFactor[], code: string, on: Day): CareFactor | null {
  return latestInForce(
    factors.filter((factor) => factor.code === code),
    on,
  );
}

/** A tier's terms of a day; throws when none are in force, since the first ones hold from the start. */
export function tierInForce(tiers: readonly DatedTier[], on: Day): Tier {
  const found = latestInForce(tiers, on);
  if (found === null) throw new Error(`no terms of the tier in force on ${on}`);
  return found;
}

/** The price terms of a day; throws when none are in force, since a price book starts with terms. */
export function termsInForce<Terms extends PriceTerms>(terms: readonly Terms[], on: Day): Terms {
  const found = latestInForce(terms, on);
  if (found === null) throw new Error(`no price terms in force on ${on}`);
  return found;
}

/** Where the damage is and what the part is made of, as settled; null where that is not known. */
export interface Repaired {
  readonly part: VehiclePart | null;
  readonly material: Material | null;
}

/** Whether a rate is for such a line: one that names a part or a material is for nothing else. */
export function rateApplies(rate: Pick<Rate, 'part' | 'material'>, { part, material }: Repaired): boolean {
  return (rate.part === null || rate.part === part) && (rate.material === null || rate.material === material);
}

/**
 * The rate of a family for a line: of those that are for its part and material and hold its measured size, the one
 * that says the most: part and material, then the part alone, then the material alone, then neither. Common practice,
 * no source. A size on the boundary belongs to the lower band. Refuses a size that is missing, zero or negative with
 * `invalid_size`, and with `price_by_hand` what the family has no rate for.
 */
export function rateOfFamily(
  rates: readonly Rate[],
  line: Repaired & { readonly family: string; readonly sizeInches: Decimal | null },
  on: Day,
): Result<Rate> {
  const { family, sizeInches } = line;
  if (sizeInches !== null && sizeInches.digits <= 0n)
    return refuse('invalid_size', 'Write the measured size in inches, more than zero, like 2.2.', 'size');
  const codes = new Set(rates.filter((rate) => rate.family === family).map((rate) => rate.code));
  const current = [...codes].flatMap((code) => rateInForce(rates, code, on) ?? []);
  const fitting = current
    .filter((rate) => rateApplies(rate, line))
    .toSorted((a, b) => specificity(b) - specificity(a));
  for (const rate of fitting) {
    if (rate.band === null) return ok(rate);
    if (sizeInches === null)
      return refuse('invalid_size', 'This price goes by size. Measure the damage in inches.', 'size');
    if (bandHolds(rate.band, sizeInches)) return ok(rate);
  }
  return refuse(
    'price_by_hand',
    current.length === 0
      ? 'The price book has no rate for this. Price it by hand, with a reason.'
      : `The price book has no rate for ${notCovered(line, fitting.length > 0)}. Price it by hand, with a reason.`,
    fitting.length > 0 ? 'size' : 'repair',
  );
}

/** Whether a rate is for less than another one, and so goes before it where both fit. */
export function saysMore(rate: Rate, other: Rate): boolean {
  return specificity(rate) > specificity(other);
}

/** A family as the price book spells it, whatever the case it was written in; as it was written where it has none such. */
export function familyInBook(rates: readonly Pick<Rate, 'family'>[], written: string): string {
  if (rates.some(({ family }) => family === written)) return written;
  const plain = (family: string) => family.trim().toLowerCase();
  return rates.find(({ family }) => plain(family) === plain(written))?.family ?? written;
}

function specificity({ part, material }: Rate): number {
  return (part === null ? 0 : 2) + (material === null ? 0 : 1);
}

/** A size on the boundary belongs to the lower band. */
export function bandHolds(band: NonNullable<Rate['band']>, inches: Decimal): boolean {
  return compareDecimals(inches, band.overInches) > 0 && compareDecimals(inches, band.toInches) <= 0;
}

function notCovered(
  { family, sizeInches, part, material }: Repaired & { family: string; sizeInches: Decimal | null },
  bySize: boolean,
): string {
  if (bySize && sizeInches !== null) return `${formatDecimal(sizeInches)} in`;
  const on = [
    ...(part === null ? [] : [vehicleParts[part]]),
    material === null ? 'a material that is not known' : materials[material],
  ];
  return `“${family}” on ${on.join(', ')}`;
}

function latestInForce<T extends { readonly inForce: Period }>(entries: readonly T[], on: Day): T | null {
  return entries.reduce<T | null>((latest, entry) => {
    if (!contains(entry.inForce, on)) return latest;
    return latest === null || entry.inForce.from > latest.inForce.from ? entry : latest;
  }, null);
}
