import {
  type BookedPrices,
  type BuyerTerms,
  loadAccountPricing,
  loadPriceBook,
  type VisitRow,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  addDays,
  type Buyer,
  contains,
  type Day,
  type Decimal,
  decimal,
  type EstimateRules,
  familyInBook,
  type LineId,
  type LineToPrice,
  ok,
  type PricedLine,
  priceLine,
  type Rate,
  type Result,
  rateApplies,
  rateDay,
  rateInForce,
  rateOfFamily,
  refuse,
  taxSetupOn,
  termsInForce,
  tierInForce,
  unratedCode,
  vehicleRules,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { lineFacts } from './line-facts.ts';

/** All that prices the lines of one visit's vehicle. */
export interface Pricing {
  readonly book: BookedPrices;
  /** What the account pays by on that day. */
  readonly buyer: Buyer;
  /** The day whose rates count. */
  readonly rateDay: Day;
  /** The share of list below which the owner of the business has to consent; null: none. */
  readonly floorPercent: Decimal | null;
  /** The last day an estimate made now holds. */
  readonly expiresOn: Day;
  readonly rules: EstimateRules;
}

/**
 * Loads the prices of a visit: the rates of the day of work, or today's while work is still to come and an estimate
 * made today holds until then. A rework is without charge. Refuses
 * with `invalid_input` where the price book has no terms or the place no taxes.
 */
export async function loadPricing(scope: Scope, visit: VisitRow, rework: boolean): Promise<Result<Pricing>> {
  const [book, account] = await Promise.all([
    loadPriceBook(scope.tx),
    loadAccountPricing(scope.tx, visit.accountId),
  ]);
  if (account === null) throw new Error('a visit names an account that is not there');
  const { today, business } = scope;
  const expiresOn = addDays(today, business.estimateValidDays);
  const ratesOf = ratesDayOf(scope, visit.day);
  if (!book.terms.some((terms) => contains(terms.inForce, ratesOf)))
    return refuse(
      'invalid_input',
      `The price book has no trip, minimum and after-hours terms for ${ratesOf}. Ask the office to add them.`,
      'day',
    );
  const areaCode = account.taxSetups[0]?.areaCode ?? '';
  const taxSetup = taxSetupOn(account.taxSetups, areaCode, visit.day);
  if (taxSetup === null)
    return refuse(
      'invalid_input',
      `The account’s tax area has no taxes for ${visit.day}. Ask the office to add them.`,
      'day',
    );
  const { floorPercent, ...terms } = termsInForce(book.terms, ratesOf);
  const tier = tierInForce(account.tiers, ratesOf);
  const rules: EstimateRules = {
    vehicle: vehicleRules(tier, terms, rework),
    visit: { miles: visit.miles, afterHours: visit.afterHours, rush: visit.rush, walkIn: visit.walkIn },
    tier: { tripWaivedFromMinor: tier.tripWaivedFromMinor, visitMinimumMinor: tier.visitMinimumMinor },
    terms,
    taxSetup,
    certificates: account.certificates,
    taxRounding: { components: business.taxComponents, basis: business.taxBasis },
  };
  return ok({
    book,
    buyer: buyerOn(account, ratesOf),
    floorPercent,
    rateDay: ratesOf,
    expiresOn,
    rules,
  });
}

/** What an account pays by on a day: its tier's terms of it, and whatever it has of its own. */
export function buyerOn({ tiers, tierPrices, contracts, accountPrices }: BuyerTerms, on: Day): Buyer {
  return { tier: tierInForce(tiers, on), tierPrices, contracts, accountPrices };
}

/** The day whose rates price work of a day: that day, or today while an estimate made today holds until then. */
export function ratesDayOf({ today, business }: Scope, day: Day): Day {
  const expiresOn = addDays(today, business.estimateValidDays);
  return day < today ? day : rateDay(day, { madeOn: today, expiresOn });
}

export interface PricedLines {
  readonly priced: readonly PricedLine[];
  /** Why a line has no price yet, in a sentence. */
  readonly unpriced: ReadonlyMap<LineId, string>;
}

/** Prices each line by itself (price rules 1 to 3); the vehicle's rules come after. */
export function priceLines(rows: readonly WorkOrderLineRow[], pricing: Pricing): PricedLines {
  const priced: PricedLine[] = [];
  const unpriced = new Map<LineId, string>();
  for (const row of rows) {
    const line = toPrice(row, pricing);
    const price = line.ok ? priceLine(line.value, pricing.book, pricing.buyer, pricing.rateDay) : line;
    if (price.ok) priced.push(price.value);
    else unpriced.set(row.id, price.problem.detail);
  }
  return { priced, unpriced };
}

/** How a line asks to be priced; refused with `price_by_hand` where nothing was chosen for it. */
export function toPrice(
  row: WorkOrderLineRow,
  pricing: Pick<Pricing, 'book' | 'rateDay'>,
): Result<LineToPrice> {
  const careFactors = row.factorCode === null ? [] : [row.factorCode];
  if (row.byHandMinor !== null) return ok(byHand(row, row.byHandMinor, pricing));
  const { part, material } = lineFacts(row);
  if (row.rateCode !== null)
    return ok({ kind: 'code', lineId: row.id, code: row.rateCode, part, material, careFactors });
  if (row.family === '')
    return refuse('price_by_hand', 'Choose the repair, or price it by hand with a reason.');
  return ok({
    kind: 'size',
    lineId: row.id,
    family: row.family,
    sizeInches: row.measuredInches,
    part,
    material,
    careFactors,
  });
}

/**
 * The rate that the price book has for a line, however it is priced; null where it has none. A code that names no rate
 * of that day hides none: then the family counts.
 */
export function bookedRate(row: WorkOrderLineRow, pricing: Pick<Pricing, 'book' | 'rateDay'>): Rate | null {
  const { rates } = pricing.book;
  const { part, material } = lineFacts(row);
  const named = row.rateCode === null ? null : rateInForce(rates, row.rateCode, pricing.rateDay);
  if (named !== null && rateApplies(named, { part, material })) return named;
  const family = familyInBook(rates, row.family);
  const found = rateOfFamily(
    rates,
    { family, sizeInches: row.measuredInches, part, material },
    pricing.rateDay,
  );
  return found.ok ? found.value : null;
}

/** A price by hand stands in for a rate where one is named, and else counts like any repair. */
function byHand(
  row: WorkOrderLineRow,
  priceMinor: bigint,
  pricing: Pick<Pricing, 'book' | 'rateDay'>,
): LineToPrice {
  const rate = row.rateCode === null ? null : rateInForce(pricing.book.rates, row.rateCode, pricing.rateDay);
  return {
    kind: 'by_hand',
    lineId: row.id,
    code: row.rateCode ?? unratedCode,
    repair: rate?.repair ?? (row.family === '' ? lineFacts(row).label : row.family),
    priceMinor,
    reason: row.byHandReason ?? '',
    materialsPercent: row.byHandMaterialsPercent ?? decimal('0'),
    takesFurtherRepair: rate?.takesFurtherRepair ?? row.repairsDamage,
  };
}
