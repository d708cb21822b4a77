import type { AccountId, Material, TenantId, VehiclePart } from '@grainwright/domain';
import { boolean, integer, pgTable, text } from 'drizzle-orm/pg-core';
import { day, decimals, exact, id, minor, tripZones } from './columns.ts';

export const rates = pgTable('rates', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  code: text('code').notNull(),
  repair: text('repair').notNull(),
  family: text('family').notNull(),
  overInches: exact('over_inches'),
  toInches: exact('to_inches'),
  part: text('part').$type<VehiclePart>(),
  material: text('material').$type<Material>(),
  listMinor: minor('list_minor').notNull(),
  materialsPercent: exact('materials_percent').notNull(),
  takesFurtherRepair: boolean('takes_further_repair').notNull(),
  repairsDamage: boolean('repairs_damage').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const careFactors = pgTable('care_factors', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  code: text('code').notNull(),
  name: text('name').notNull(),
});

export const carePercents = pgTable('care_percents', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  factorCode: text('factor_code').notNull(),
  percent: exact('percent').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const accountPrices = pgTable('account_prices', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  code: text('code').notNull(),
  priceMinor: minor('price_minor').notNull(),
  reason: text('reason').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const tierPrices = pgTable('tier_prices', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  tierCode: text('tier_code').notNull(),
  code: text('code').notNull(),
  priceMinor: minor('price_minor').notNull(),
  reason: text('reason').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const contracts = pgTable('contracts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  name: text('name').notNull(),
  discountPercent: exact('discount_percent').notNull(),
  reason: text('reason').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const priceTerms = pgTable('price_terms', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  furtherRepairPercents: decimals('further_repair_percents').notNull(),
  tripMinor: minor('trip_minor').notNull(),
  milesIncluded: exact('miles_included').notNull(),
  mileMinor: minor('mile_minor').notNull(),
  tripZones: tripZones('trip_zones').notNull(),
  afterHoursPercent: exact('after_hours_percent').notNull(),
  afterHoursMinimumMinor: minor('after_hours_minimum_minor').notNull(),
  rushPercent: exact('rush_percent').notNull(),
  rushMinimumMinor: minor('rush_minimum_minor').notNull(),
  depositFromMinor: minor('deposit_from_minor').notNull(),
  depositPercent: exact('deposit_percent').notNull(),
  depositStepMinor: minor('deposit_step_minor').notNull(),
  floorPercent: exact('floor_percent'),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const taxRates = pgTable('tax_rates', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  taxAreaId: id('tax_area_id').notNull(),
  component: text('component').notNull(),
  position: integer('position').notNull(),
  ratePercent: exact('rate_percent').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const taxClasses = pgTable('tax_classes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  taxAreaId: id('tax_area_id').notNull(),
  taxable: text('taxable').array().notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});
