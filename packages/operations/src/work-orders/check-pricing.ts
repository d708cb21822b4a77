import type { BookedPrices } from '@grainwright/db';
import {
  bandHolds,
  compareDecimals,
  type Day,
  type Decimal,
  formatDecimal,
  formatMinor,
  materials,
  ok,
  type Rate,
  type Repaired,
  type Result,
  rateApplies,
  rateInForce,
  rateOfFamily,
  refuse,
  saysMore,
  vehicleParts,
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
  /** Whether the person may give a price by hand at all. */
  readonly mayPriceByHand: boolean;
  /** Whether the person may price by hand what the price book has a price for. */
  readonly mayPassOverBook: boolean;
  /** What stood before, where a line is changed: a price that somebody else was allowed to give may stay. */
  readonly before: LineBefore | null;
}

type LineBefore = LinePricing & Pick<LineFields, 'part' | 'material'>;

/**
 * Whether a line's pricing fits the price book. Refuses with `invalid_size` a rate whose sizes are others than the
 * measured one, with `invalid_input` one for another part or material and a care factor where none applies, with
 * `price_by_hand` a price by hand where the book has one, and with `not_allowed` any from somebody without that right.
 * Whoever may not pass over the book names no rate, with `invalid_input`, where it has one that says more of the line.
 */
export function checkPricing(line: LinePricing & Repaired, rules: PricingRules): Result<true> {
  const named = line.rateCode === null ? null : rateInForce(rules.book.rates, line.rateCode, rules.ratesDay);
  const fits = named === null ? ok<true>(true) : checkNamed(line, named, rules);
  if (!fits.ok) return fits;
  const booked = bookedRate(line, named, rules);
  const factor = checkFactor(line, booked, rules);
  return factor.ok ? checkByHand(line, booked, rules) : factor;
}

function checkNamed(line: LinePricing & Repaired, rate: Rate, rules: PricingRules): Result<true> {
  const { measuredInches } = line;
  const { code, family, band } = rate;
  if (!rateApplies(rate, line))
    return refuse(
      'invalid_input',
      `${code} is only for ${onlyFor(rate)}. Choose “${family}” instead of a code, and part and material pick the price.`,
      'rate_code',
    );
  if (band !== null && measuredInches !== null && !bandHolds(band, measuredInches))
    return refuse(
      'invalid_size',
      `${code} is for over ${formatDecimal(band.overInches)} to ${formatDecimal(band.toInches)} in, and ${formatDecimal(measuredInches)} in was measured. Choose “${family}” instead of a code, and the size picks the price.`,
      'measured_inches',
    );
  return checkBestFit(line, rate, rules);
}

function checkBestFit(
  line: LinePricing & Repaired,
  named: Rate,
  { book, ratesDay, mayPassOverBook, before }: PricingRules,
): Result<true> {
  if (mayPassOverBook || namedBefore(line, before)) return ok(true);
  const { family } = named;
  const found = rateOfFamily(book.rates, { ...line, family, sizeInches: line.measuredInches }, ratesDay);
  if (!found.ok || !saysMore(found.value, named)) return ok(true);
  const { code } = found.value;
  return refuse(
    'invalid_input',
    `The price book has ${code} for ${onlyFor(found.value)}: ${named.code} is for the others. Choose ${code}, or “${family}” instead of a code.`,
    'rate_code',
  );
}

/** Whether the same rate was named for the same damage before: whoever did it was allowed to. */
function namedBefore(line: LinePricing & Repaired, before: LineBefore | null): boolean {
  return (
    before !== null &&
    before.rateCode === line.rateCode &&
    before.part === line.part &&
    before.material === (line.material ?? '') &&
    sameSize(before.measuredInches, line.measuredInches)
  );
}

function sameSize(one: Decimal | null, other: Decimal | null): boolean {
  return one === null || other === null ? one === other : compareDecimals(one, other) === 0;
}

/** What a rate is for, in words: “dash, urethane (PU) or bonded leather”. */
function onlyFor({ part, material }: Rate): string {
  return [
    ...(part === null ? [] : [vehicleParts[part]]),
    ...(material === null ? [] : [materials[material]]),
  ].join(', ');
}

/** The rate of the chosen repair and size; null where the book has none. */
function bookedRate(
  line: LinePricing & Repaired,
  named: Rate | null,
  { book, ratesDay }: PricingRules,
): Result<Rate | null> {
  if (named !== null || line.family === '') return ok(named);
  const found = rateOfFamily(book.rates, { ...line, sizeInches: line.measuredInches }, ratesDay);
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
  if (line.byHandMinor === null || stood(line, rules.before)) return ok(true);
  if (!rules.mayPriceByHand)
    return refuse(
      'not_allowed',
      'Pricing by hand is for the office, the owner, and whoever the owner lets. Leave the price out: the line is kept, and the office prices it.',
      'by_hand_price',
    );
  // Without a size nobody knows yet whether the book has a price, nor what its floor is.
  if (!booked.ok) return booked;
  if (rules.mayPassOverBook || booked.value === null) return ok(true);
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
