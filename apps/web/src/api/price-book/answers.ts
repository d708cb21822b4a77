import { type Day, formatDecimal, formatMinor, fromTheStart } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import type { z } from 'zod';
import type { priceBookAnswer } from './schemas.ts';

type Answer = z.input<typeof priceBookAnswer>;

export function answerPriceBook(book: PriceBookView): Answer {
  const amount = (minor: bigint) => formatMinor(minor, book.currency);
  return {
    currency: book.currency,
    tiers: book.tiers.map((tier) => ({
      code: tier.code,
      name: tier.name,
      discount_percent: formatDecimal(tier.discountPercent),
      vehicle_minimum: amount(tier.vehicleMinimumMinor),
      trip_waived_from: tier.tripWaivedFromMinor === null ? null : amount(tier.tripWaivedFromMinor),
      periods: tier.terms.map((terms) => ({
        id: terms.id,
        discount_percent: formatDecimal(terms.discountPercent),
        vehicle_minimum: amount(terms.vehicleMinimumMinor),
        trip_waived_from: terms.tripWaivedFromMinor === null ? null : amount(terms.tripWaivedFromMinor),
        ...periodFromTheStart(terms),
      })),
    })),
    rates: answerRates(book),
    factors: book.factors.map(({ code, name, percent, percents }) => ({
      code,
      name,
      percent: formatDecimal(percent),
      periods: percents.map((each) => ({
        id: each.id,
        percent: formatDecimal(each.percent),
        ...periodFromTheStart(each),
      })),
    })),
    terms: answerTerms(book),
    tax_areas: book.taxAreas.map(({ id, code, name, rates, classes }) => ({
      id,
      code,
      name,
      components: rates.map((each) => ({
        name: each.component,
        rate_percent: formatDecimal(each.ratePercent),
        ...period(each),
      })),
      taxable: classes.map((each) => ({ classes: each.taxable, ...period(each) })),
    })),
    account_prices: book.accountPrices.map((each) => ({
      id: each.id,
      account_id: each.accountId,
      account_name: each.accountName,
      code: each.code,
      price: amount(each.priceMinor),
      list: each.listMinor === null ? null : amount(each.listMinor),
      reason: each.reason,
      ...period(each),
    })),
  };
}

function answerRates({ rates, tiers, currency }: PriceBookView): Answer['rates'] {
  return rates.map((rate) => ({
    id: rate.id,
    code: rate.code,
    repair: rate.repair,
    family: rate.family,
    over_inches: rate.overInches === null ? null : formatDecimal(rate.overInches),
    to_inches: rate.toInches === null ? null : formatDecimal(rate.toInches),
    list: formatMinor(rate.listMinor, currency),
    tier_prices: Object.fromEntries(
      tiers.map((tier, index) => [
        tier.code,
        formatMinor(rate.tierPricesMinor[index] ?? rate.listMinor, currency),
      ]),
    ),
    materials_percent: formatDecimal(rate.materialsPercent),
    takes_further_repair: rate.takesFurtherRepair,
    repairs_damage: rate.repairsDamage,
    ...period(rate),
  }));
}

function answerTerms({ terms, currency }: PriceBookView): Answer['terms'] {
  return terms.map((each) => ({
    id: each.id,
    further_repair_percents: each.furtherRepairPercents.map(formatDecimal),
    trip: formatMinor(each.tripMinor, currency),
    miles_included: formatDecimal(each.milesIncluded),
    mile: formatMinor(each.mileMinor, currency),
    after_hours_percent: formatDecimal(each.afterHoursPercent),
    after_hours_minimum: formatMinor(each.afterHoursMinimumMinor, currency),
    deposit_from: formatMinor(each.depositFromMinor, currency),
    deposit_percent: formatDecimal(each.depositPercent),
    deposit_step: formatMinor(each.depositStepMinor, currency),
    ...period(each),
  }));
}

function period({ validFrom, validTo }: { readonly validFrom: Day; readonly validTo: Day | null }) {
  return { valid_from: validFrom, valid_to: validTo };
}

/** What holds from the start has no first day. */
function periodFromTheStart(row: { readonly validFrom: Day; readonly validTo: Day | null }) {
  return { valid_from: row.validFrom === fromTheStart ? null : row.validFrom, valid_to: row.validTo };
}
