import { contains, type Day, day, type Period } from '../dates.ts';
import { compareDecimals, type Decimal, formatDecimal } from '../money/decimal.ts';
import { ok, type Result, refuse } from '../result.ts';
import type {
  AccountPrice,
  CareFactor,
  DatedCareFactor,
  DatedTier,
  PriceTerms,
  Rate,
  Tier,
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
export function termsInForce(terms: readonly PriceTerms[], on: Day): PriceTerms {
  const found = latestInForce(terms, on);
  if (found === null) throw new Error(`no price terms in force on ${on}`);
  return found;
}

/**
 * The rate of a family whose size band holds the measured size; a size on the boundary belongs to the lower
 * band. Refuses a size that is missing, zero or negative with `invalid_size`, and with `price_by_hand` one that
 * no band holds or a family without a rate.
 */
export function rateForSize(
  rates: readonly Rate[],
  family: string,
  sizeInches: Decimal | null,
  on: Day,
): Result<Rate> {
  const codes = new Set(rates.filter((rate) => rate.family === family).map((rate) => rate.code));
  const current = [...codes].flatMap((code) => rateInForce(rates, code, on) ?? []);
  if (sizeInches !== null && sizeInches.digits <= 0n)
    return refuse('invalid_size', 'Write the measured size in inches, more than zero, like 2.2.', 'size');
  const unmeasured = current.find((rate) => rate.band === null);
  if (unmeasured) return ok(unmeasured);
  const banded = current.flatMap((rate) => (rate.band === null ? [] : [{ rate, band: rate.band }]));
  if (banded.length === 0)
    return refuse(
      'price_by_hand',
      'The price book has no rate for this. Price it by hand, with a reason.',
      'repair',
    );
  if (sizeInches === null)
    return refuse('invalid_size', 'This price goes by size. Measure the damage in inches.', 'size');
  const fitting = banded.find(
    ({ band }) =>
      compareDecimals(sizeInches, band.overInches) > 0 && compareDecimals(sizeInches, band.toInches) <= 0,
  );
  if (fitting) return ok(fitting.rate);
  return refuse(
    'price_by_hand',
    `The price book has no rate for ${formatDecimal(sizeInches)} in. Price it by hand, with a reason.`,
    'size',
  );
}

function latestInForce<T extends { readonly inForce: Period }>(entries: readonly T[], on: Day): T | null {
  return entries.reduce<T | null>((latest, entry) => {
    if (!contains(entry.inForce, on)) return latest;
    return latest === null || entry.inForce.from > latest.inForce.from ? entry : latest;
  }, null);
}
