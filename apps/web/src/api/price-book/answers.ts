import { type Day, formatDecimal, formatMinor, fromTheStart } from '@grainwright/domain';
import type { PriceBookView, TierView } from '@grainwright/operations';
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
      ...answerTierLimits(tier, book.currency),
      periods: tier.terms.map((terms) => ({
        id: terms.id,
        discount_percent: formatDecimal(terms.discountPercent),
        ...answerTierLimits(terms, book.currency),
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
    tier_prices: book.tierPrices.map((each) => ({
      id: each.id,
      tier: each.tierCode,
      code: each.code,
      price: amount(each.priceMinor),
      reason: each.reason,
      ...period(each),
    })),
    contracts: book.contracts.map((each) => ({
      id: each.id,
      account_id: each.accountId,
      account_name: each.accountName,
      name: each.name,
      discount_percent: formatDecimal(each.discountPercent),
      reason: each.reason,
      ...period(each),
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

function answerTierLimits(
  terms: Pick<
    TierView,
    'vehicleMinimumMinor' | 'vehicleCapMinor' | 'visitMinimumMinor' | 'tripWaivedFromMinor'
  >,
  currency: string,
) {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    vehicle_minimum: amount(terms.vehicleMinimumMinor),
    vehicle_cap: terms.vehicleCapMinor === null ? null : amount(terms.vehicleCapMinor),
    visit_minimum: amount(terms.visitMinimumMinor),
    trip_waived_from: terms.tripWaivedFromMinor === null ? null : amount(terms.tripWaivedFromMinor),
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
    part: rate.part,
    material: rate.material,
    list: formatMinor(rate.listMinor, currency),
    labor: formatMinor(rate.laborMinor, currency),
    materials: formatMinor(rate.materialsMinor, currency),
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
    trip_zones: each.tripZones.map((zone) => ({
      name: zone.name,
      up_to_miles: formatDecimal(zone.upToMiles),
      amount: formatMinor(zone.amountMinor, currency),
    })),
    after_hours_percent: formatDecimal(each.afterHoursPercent),
    after_hours_minimum: formatMinor(each.afterHoursMinimumMinor, currency),
    rush_percent: formatDecimal(each.rushPercent),
    rush_minimum: formatMinor(each.rushMinimumMinor, currency),
    deposit_from: formatMinor(each.depositFromMinor, currency),
    deposit_percent: formatDecimal(each.depositPercent),
    deposit_step: formatMinor(each.depositStepMinor, currency),
    floor_percent: each.floorPercent && formatDecimal(each.floorPercent),
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
