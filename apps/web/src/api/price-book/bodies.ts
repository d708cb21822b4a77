import type { AddTaxAreaInput, AddTierInput, RateInput, SetPriceTermsInput } from '@grainwright/operations';
import type { z } from 'zod';
import type { addRatesBody, addTaxAreaBody, addTierBody, setTermsBody } from './schemas.ts';

export function tierOf(body: z.output<typeof addTierBody>): AddTierInput {
  return {
    code: body.code,
    name: body.name,
    discountPercent: body.discount_percent,
    ...tierLimitsOf(body),
  };
}

type TierLimits = Pick<
  z.output<typeof addTierBody>,
  'vehicle_minimum' | 'vehicle_cap' | 'visit_minimum' | 'trip_waived_from'
>;

/** The limits of a tier's terms, new or changed. */
export function tierLimitsOf(body: TierLimits) {
  return {
    vehicleMinimum: body.vehicle_minimum,
    vehicleCap: body.vehicle_cap,
    visitMinimum: body.visit_minimum,
    tripWaivedFrom: body.trip_waived_from,
  };
}

export function ratesOf({ rates }: z.output<typeof addRatesBody>): readonly RateInput[] {
  return rates.map((rate) => ({
    id: rate.id,
    code: rate.code,
    repair: rate.repair,
    family: rate.family,
    overInches: rate.over_inches,
    toInches: rate.to_inches,
    part: rate.part,
    material: rate.material,
    list: rate.list,
    materialsPercent: rate.materials_percent,
    takesFurtherRepair: rate.takes_further_repair,
    repairsDamage: rate.repairs_damage,
    validFrom: rate.valid_from,
    validTo: rate.valid_to,
  }));
}

export function termsOf(body: z.output<typeof setTermsBody>): SetPriceTermsInput {
  return {
    id: body.id,
    furtherRepairPercents: body.further_repair_percents,
    trip: body.trip,
    milesIncluded: body.miles_included,
    mile: body.mile,
    tripZones: body.trip_zones.map(({ name, up_to_miles: upToMiles, amount }) => ({
      name,
      upToMiles,
      amount,
    })),
    afterHoursPercent: body.after_hours_percent,
    afterHoursMinimum: body.after_hours_minimum,
    rushPercent: body.rush_percent,
    rushMinimum: body.rush_minimum,
    depositFrom: body.deposit_from,
    depositPercent: body.deposit_percent,
    depositStep: body.deposit_step,
    floorPercent: body.floor_percent,
    validFrom: body.valid_from,
    validTo: body.valid_to,
  };
}

export function taxAreaOf(body: z.output<typeof addTaxAreaBody>): AddTaxAreaInput {
  const { id, code, name, taxable, valid_from: validFrom, valid_to: validTo } = body;
  const components = body.components.map((each) => ({ name: each.name, ratePercent: each.rate_percent }));
  return { id, code, name, components, taxable, validFrom, validTo };
}
