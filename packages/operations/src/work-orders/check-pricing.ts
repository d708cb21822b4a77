import type { BookedPrices } from '@grainwright/db';
import {
  compareDecimals,
  type Day,
  formatDecimal,
  formatMinor,
  ok,
  type Rate,
  type Result,
  rateForSize,
  rateInForce,
  refuse,
} from '@grainwright/domain';
import type { LineFields } from './read-line.ts';

/** How a line is priced, as stored. */
export type LinePricing = Pick<
  LineFields,
  'family' | 'rateCode' | 'factorCode' | 'measuredInches' | 'byHandMinor'
>;

/** What a line's pricing has to fit. */
export interface PricingRules {
  readonly book: BookedPrices;
  readonly currency: string;
  /** The day whose rates count. */
  readonly ratesDay: Day;
  /** Whether the person may price by hand what the price book has a price for. */
  readonly mayPassOverBook: boolean;
  /** What stood before, where a line is changed: a price that somebody else was allowed to give may stay. */
  readonly before: LinePricing | null;
}

/**
 * Whether a line's pricing fits the price book. Refuses with `invalid_size` a rate whose sizes are others than the
 * measured one, with `invalid_input` a care factor where none applies, and with `price_by_hand` a price by hand
 * where the book has one.
 */
export function checkPricing(line: LinePricing, rules: PricingRules): Result<true> {
  const named = line.rateCode === null ? null : rateInForce(rules.book.rates, line.rateCode, rules.ratesDay);
  const size = named === null ? ok<true>(true) : checkSize(line, named);
  if (!size.ok) return size;
  const booked = bookedRate(line, named, rules);
  const factor = checkFactor(line, booked, rules);
  return factor.ok ? checkByHand(line, booked, rules) : factor;
}

/** A size on the boundary belongs to the lower band. */
function checkSize({ measuredInches }: LinePricing, { code, family, band }: Rate): Result<true> {
  if (band === null || measuredInches === null) return ok(true);
  const fits =
    compareDecimals(measuredInches, band.overInches) > 0 &&
    compareDecimals(measuredInches, band.toInches) <= 0;
  if (fits) return ok(true);
  return refuse(
    'invalid_size',
    `${code} is for over ${formatDecimal(band.overInches)} to ${formatDecimal(band.toInches)} in, and ${formatDecimal(measuredInches)} in was measured. Choose “${family}” instead of a code, and the size picks the price.`,
    'measured_inches',
  );
}

/** The rate of the chosen repair and size; null where the book has none. */
function bookedRate(
  line: LinePricing,
  named: Rate | null,
  { book, ratesDay }: PricingRules,
): Result<Rate | null> {
  if (line.rateCode !== null || line.family === '') return ok(named);
  const found = rateForSize(book.rates, line.family, line.measuredInches, ratesDay);
  if (found.ok) return found;
  const { code, detail } = found.problem;
  return code === 'price_by_hand' ? ok(null) : refuse(code, detail, 'measured_inches');
}

function checkFactor(
  { family, factorCode }: LinePricing,
  booked: Result<Rate | null>,
  { book }: PricingRules,
): Result<true> {
  if (factorCode === null) return ok(true);
  const rate = booked.ok ? booked.value : book.rates.find((each) => each.family === family);
  if (rate === null || rate === undefined || rate.takesFurtherRepair) return ok(true);
  return refuse(
    'invalid_input',
    `No extra care is charged on “${rate.repair}”. Leave the care factor out.`,
    'factor_code',
  );
}

function checkByHand(line: LinePricing, booked: Result<Rate | null>, rules: PricingRules): Result<true> {
  if (line.byHandMinor === null || rules.mayPassOverBook || stood(line, rules.before)) return ok(true);
  // Without a size nobody knows yet whether the book has a price.
  if (!booked.ok) return booked;
  if (booked.value === null) return ok(true);
  const price = formatMinor(booked.value.listMinor, rules.currency);
  return refuse(
    'price_by_hand',
    `The price book has a price: ${price} for ${booked.value.repair}. Take that, or ask the office for another price.`,
    'by_hand_price',
  );
}

function stood(line: LinePricing, before: LinePricing | null): boolean {
  return (
    before !== null &&
    before.byHandMinor === line.byHandMinor &&
    before.family === line.family &&
    before.rateCode === line.rateCode
  );
}
