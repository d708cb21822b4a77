import {
  type BookedPrices,
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
  decimal,
  type EstimateRules,
  type LineId,
  type LineToPrice,
  ok,
  type PricedLine,
  priceLine,
  type Result,
  rateDay,
  rateInForce,
  refuse,
  taxSetupOn,
  termsInForce,
  tierInForce,
  vehicleRules,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { lineFacts } from './line-facts.ts';

/** All that prices the lines of one visit's vehicle. */
export interface Pricing {
  readonly book: BookedPrices;
  /** The account's tier as it is on that day, and its own prices. */
  readonly buyer: Buyer;
  /** The day whose rates count. */
  readonly rateDay: Day;
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
  const terms = termsInForce(book.terms, ratesOf);
  const tier = tierInForce(account.tiers, ratesOf);
  const rules: EstimateRules = {
    vehicle: vehicleRules(tier, terms, rework),
    visit: { miles: visit.miles, afterHours: visit.afterHours, walkIn: visit.walkIn },
    tier: { tripWaivedFromMinor: tier.tripWaivedFromMinor },
    terms,
    taxSetup,
    certificates: account.certificates,
    taxRounding: { components: business.taxComponents, basis: business.taxBasis },
  };
  return ok({
    book,
    buyer: { tier, accountPrices: account.accountPrices },
    rateDay: ratesOf,
    expiresOn,
    rules,
  });
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

function toPrice(row: WorkOrderLineRow, pricing: Pricing): Result<LineToPrice> {
  const careFactors = row.factorCode === null ? [] : [row.factorCode];
  if (row.byHandMinor !== null) return ok(byHand(row, row.byHandMinor, pricing));
  if (row.rateCode !== null) return ok({ kind: 'code', lineId: row.id, code: row.rateCode, careFactors });
  if (row.family === '')
    return refuse('price_by_hand', 'Choose the repair, or price it by hand with a reason.');
  return ok({
    kind: 'size',
    lineId: row.id,
    family: row.family,
    sizeInches: row.measuredInches,
    careFactors,
  });
}

/** A price by hand stands in for a rate where one is named, and else counts like any repair. */
function byHand(row: WorkOrderLineRow, priceMinor: bigint, pricing: Pricing): LineToPrice {
  const rate = row.rateCode === null ? null : rateInForce(pricing.book.rates, row.rateCode, pricing.rateDay);
  return {
    kind: 'by_hand',
    lineId: row.id,
    code: row.rateCode ?? 'HAND',
    repair: rate?.repair ?? (row.family === '' ? lineFacts(row).label : row.family),
    priceMinor,
    reason: row.byHandReason ?? '',
    materialsPercent: row.byHandMaterialsPercent ?? decimal('0'),
    takesFurtherRepair: rate?.takesFurtherRepair ?? row.repairsDamage,
  };
}
