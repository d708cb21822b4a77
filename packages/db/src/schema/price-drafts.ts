import type { JsonValue, Material, PersonId, PriceDraftId, TenantId, VehiclePart } from '@grainwright/domain';
import { boolean, integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { day, exact, id, minor, moment } from './columns.ts';

export const priceDrafts = pgTable('price_drafts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PriceDraftId>('id').notNull(),
  name: text('name').notNull(),
  countsFrom: day('counts_from').notNull(),
  copiedFrom: day('copied_from').notNull(),
  base: jsonb('base').$type<JsonValue>().notNull(),
  revision: integer('revision').notNull(),
  state: text('state').$type<'open' | 'published' | 'discarded'>().notNull(),
  startedBy: id<PersonId>('started_by').notNull(),
  startedAt: moment('started_at').notNull(),
  endedBy: id<PersonId>('ended_by'),
  endedAt: moment('ended_at'),
});

export const priceDraftRates = pgTable('price_draft_rates', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  draftId: id<PriceDraftId>('draft_id').notNull(),
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
});
