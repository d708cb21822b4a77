import type {
  CoveredRegion,
  CoveringId,
  PersonId,
  PhotoId,
  RecordingId,
  TenantId,
} from '@grainwright/domain';
import { boolean, integer, jsonb, pgTable, pgView, text } from 'drizzle-orm/pg-core';
import { id, moment, whole } from './columns.ts';

export const photoCoverings = pgTable('photo_coverings', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<CoveringId>('id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  /** The newest one counts. */
  number: integer('number').notNull(),
  /** None: the covering was taken away. */
  regions: jsonb('regions').$type<readonly CoveredRegion[]>().notNull(),
  covers: boolean('covers').generatedAlwaysAs(true).notNull(),
  reason: text('reason').notNull(),
  madeBy: id<PersonId>('made_by').notNull(),
  madeAt: moment('made_at').notNull(),
});

export const coveredCopies = pgTable('covered_copies', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  coveringId: id<CoveringId>('covering_id').notNull(),
  kind: text('kind').$type<'full' | 'view' | 'thumb'>().notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  width: integer('width').notNull(),
  height: integer('height').notNull(),
  storageKey: text('storage_key').notNull(),
  madeAt: moment('made_at').notNull(),
});

/** The newest covering of each photo, where it was not taken away. */
export const standingCoverings = pgView('standing_coverings', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  id: id<CoveringId>('id').notNull(),
  number: integer('number').notNull(),
  madeAt: moment('made_at').notNull(),
}).existing();

/** The copies that accounts, vehicle owners and papers get: the covered ones where a covering stands. */
export const shownCopies = pgView('shown_copies', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  kind: text('kind').$type<'view' | 'thumb'>().notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  width: integer('width').notNull(),
  height: integer('height').notNull(),
  storageKey: text('storage_key').notNull(),
  madeAt: moment('made_at').notNull(),
}).existing();

/** A recording is covered as a whole. The newest row counts. */
export const recordingWithholdings = pgTable('recording_withholdings', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<CoveringId>('id').notNull(),
  recordingId: id<RecordingId>('recording_id').notNull(),
  number: integer('number').notNull(),
  withheld: boolean('withheld').notNull(),
  reason: text('reason').notNull(),
  madeBy: id<PersonId>('made_by').notNull(),
  madeAt: moment('made_at').notNull(),
});
