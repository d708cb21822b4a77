import { type AccountId, type Id, lineClasses } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, decimalText, idOf, idText, moneyText } from '../schemas.ts';

const dated = { valid_from: dayText, valid_to: dayText.nullable().default(null) };
const words = z.string().max(400);
const code = z.string().max(40);
const word = z.string().max(60);

const tierLimits = {
  vehicle_minimum: moneyText,
  vehicle_cap: moneyText
    .nullable()
    .default(null)
    .meta({ description: 'The most that a vehicle’s repairs come to; null: no such limit.' }),
  visit_minimum: moneyText.default('0').meta({ description: 'What a visit’s repairs come to at least.' }),
  trip_waived_from: moneyText.nullable().default(null),
};
const tripZone = z.object({ name: words, up_to_miles: decimalText, amount: moneyText });

export const addTierBody = z.object({
  code,
  name: words,
  discount_percent: decimalText,
  ...tierLimits,
});
export const addFactorBody = z.object({ code, name: words, percent: decimalText });
export const addRatesBody = z.object({
  rates: z
    .array(
      z.object({
        id: idOf<Id<'rate'>>('rate'),
        code,
        repair: words,
        family: words,
        over_inches: decimalText.nullable().default(null),
        to_inches: decimalText.nullable().default(null),
        part: word.nullable().default(null).meta({ description: 'The only part it is for; null: any.' }),
        material: word
          .nullable()
          .default(null)
          .meta({ description: 'The only material it is for, as settled at the vehicle; null: any.' }),
        list: moneyText,
        materials_percent: decimalText,
        takes_further_repair: z.boolean(),
        repairs_damage: z.boolean(),
        ...dated,
      }),
    )
    .min(1)
    .max(500),
});
export const addAccountPriceBody = z.object({
  id: idOf<Id<'account price'>>('price'),
  account_id: idOf<AccountId>('account'),
  code,
  price: moneyText,
  reason: words,
  ...dated,
});
export const addTierPriceBody = z.object({
  id: idOf<Id<'tier price'>>('price'),
  tier: code,
  code,
  price: moneyText,
  reason: words,
  ...dated,
});
export const addContractBody = z.object({
  id: idOf<Id<'contract'>>('contract'),
  account_id: idOf<AccountId>('account'),
  name: words,
  discount_percent: decimalText.meta({ description: 'Off list, after care factors.' }),
  reason: words,
  ...dated,
});
export const setTermsBody = z.object({
  id: idOf<Id<'price terms'>>('set of terms'),
  further_repair_percents: z.array(decimalText).max(20),
  trip: moneyText,
  miles_included: decimalText,
  mile: moneyText,
  trip_zones: z
    .array(tripZone)
    .max(20)
    .default([])
    .meta({ description: 'From near to far; they stand in for the trip’s amount and the miles included.' }),
  after_hours_percent: decimalText,
  after_hours_minimum: moneyText,
  rush_percent: decimalText.default('0'),
  rush_minimum: moneyText.default('0'),
  deposit_from: moneyText,
  deposit_percent: decimalText,
  deposit_step: moneyText,
  floor_percent: decimalText
    .nullable()
    .default(null)
    .meta({ description: 'The share of list below which the owner has to consent; null: none.' }),
  ...dated,
});
export const addTaxAreaBody = z.object({
  id: idOf<Id<'tax area'>>('tax area'),
  code,
  name: words,
  components: z.array(z.object({ name: words, rate_percent: decimalText })).max(20),
  taxable: z
    .array(z.enum(lineClasses))
    .meta({ description: 'The business and its licensed adviser decide which.' }),
  ...dated,
});

export const priceParams = z.object({
  kind: z.enum(['rates', 'account-prices', 'tier-prices', 'contracts']),
  id: idOf<Id<'price'>>('price'),
});
export const endPriceBody = z.object({
  valid_to: dayText.meta({ description: 'The last day, today or later.' }),
});

const from = {
  valid_from: dayText.meta({ description: 'Its first day; what holds before ends the day before.' }),
};
const after = {
  valid_from: dayText.meta({
    description: 'Its first day, after today; what holds before ends the day before.',
  }),
};
const taxes = 'Which charges are taxed, and how much, is for the business and its licensed adviser to say.';

export const codeParams = z.object({ code });
export const changeRateBody = z.object({
  id: idOf<Id<'rate'>>('rate'),
  repair: words,
  list: moneyText,
  materials_percent: decimalText,
  ...after,
});
export const changeTierBody = z.object({
  id: idOf<Id<'tier terms'>>('set of terms'),
  discount_percent: decimalText,
  ...tierLimits,
  ...after,
});
export const changeFactorBody = z.object({
  id: idOf<Id<'care percent'>>('period'),
  percent: decimalText,
  ...after,
});
export const addTaxRateBody = z
  .object({ id: idOf<Id<'tax rate'>>('rate'), component: words, rate_percent: decimalText, ...from })
  .meta({ description: taxes });
export const setClassesBody = z
  .object({ id: idOf<Id<'tax classes'>>('list'), taxable: z.array(z.enum(lineClasses)), ...from })
  .meta({ description: taxes });

export const codeAnswer = z.object({ code: z.string() });
export const idAnswer = z.object({ id: idText });
export const idsAnswer = z.object({ ids: z.array(idText) });

const period = { valid_from: dayText, valid_to: dayText.nullable() };

const periodFromTheStart = {
  valid_from: dayText.nullable().meta({ description: 'Null: from the start.' }),
  valid_to: dayText.nullable(),
};

const tierLimitsAnswer = {
  vehicle_minimum: moneyText,
  vehicle_cap: moneyText.nullable(),
  visit_minimum: moneyText,
  trip_waived_from: moneyText.nullable(),
};

export const priceBookAnswer = z.object({
  currency: z.string(),
  tiers: z.array(
    z.object({
      code: z.string(),
      name: z.string(),
      discount_percent: decimalText,
      ...tierLimitsAnswer,
      periods: z.array(
        z.object({
          id: idText,
          discount_percent: decimalText,
          ...tierLimitsAnswer,
          ...periodFromTheStart,
        }),
      ),
    }),
  ),
  rates: z.array(
    z.object({
      id: idText,
      code: z.string(),
      repair: z.string(),
      family: z.string(),
      over_inches: decimalText.nullable(),
      to_inches: decimalText.nullable(),
      part: z.string().nullable().meta({ description: 'The only part it is for; null: any.' }),
      material: z.string().nullable().meta({ description: 'The only material it is for; null: any.' }),
      list: moneyText,
      labor: moneyText.meta({ description: 'What of the list price is labor; the rest is materials.' }),
      materials: moneyText,
      tier_prices: z.record(z.string(), moneyText).meta({ description: 'What each tier pays, by its code.' }),
      materials_percent: decimalText,
      takes_further_repair: z.boolean(),
      repairs_damage: z.boolean(),
      ...period,
    }),
  ),
  factors: z.array(
    z.object({
      code: z.string(),
      name: z.string(),
      percent: decimalText,
      periods: z.array(z.object({ id: idText, percent: decimalText, ...periodFromTheStart })),
    }),
  ),
  terms: z.array(
    z.object({
      id: idText,
      further_repair_percents: z.array(decimalText),
      trip: moneyText,
      miles_included: decimalText,
      mile: moneyText,
      trip_zones: z.array(tripZone),
      after_hours_percent: decimalText,
      after_hours_minimum: moneyText,
      rush_percent: decimalText,
      rush_minimum: moneyText,
      deposit_from: moneyText,
      deposit_percent: decimalText,
      deposit_step: moneyText,
      floor_percent: decimalText.nullable(),
      ...period,
    }),
  ),
  tax_areas: z.array(
    z.object({
      id: idText,
      code: z.string(),
      name: z.string(),
      components: z.array(z.object({ name: z.string(), rate_percent: decimalText, ...period })),
      taxable: z.array(z.object({ classes: z.array(z.string()), ...period })),
    }),
  ),
  tier_prices: z.array(
    z.object({
      id: idText,
      tier: z.string(),
      code: z.string(),
      price: moneyText,
      reason: z.string(),
      ...period,
    }),
  ),
  contracts: z.array(
    z.object({
      id: idText,
      account_id: idText,
      account_name: z.string(),
      name: z.string(),
      discount_percent: decimalText,
      reason: z.string(),
      ...period,
    }),
  ),
  account_prices: z.array(
    z.object({
      id: idText,
      account_id: idText,
      account_name: z.string(),
      code: z.string(),
      price: moneyText,
      list: moneyText
        .nullable()
        .meta({ description: 'The code at list, today or on its first day if that is later.' }),
      reason: z.string(),
      ...period,
    }),
  ),
});
