import type {
  PersonId,
  PhotoId,
  PhotoOverrideId,
  PhotoWarning,
  RecordingId,
  RecordingMediaType,
  TenantId,
  WorkOrderId,
} from '@grainwright/domain';
import { boolean, doublePrecision, integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { id, moment, whole } from './columns.ts';

export const photoChecks = pgTable('photo_checks', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  sharpness: doublePrecision('sharpness').notNull(),
  dark: doublePrecision('dark').notNull(),
  washedOut: doublePrecision('washed_out').notNull(),
  hash: text('hash').notNull(),
  print: text('print').notNull(),
  /** As they were told when the photo came in. */
  warnings: jsonb('warnings').$type<readonly PhotoWarning[]>().notNull(),
  checkedAt: moment('checked_at').notNull(),
});

export const photoOverrides = pgTable('photo_overrides', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PhotoOverrideId>('id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  reason: text('reason').notNull(),
  madeBy: id<PersonId>('made_by').notNull(),
  madeAt: moment('made_at').notNull(),
});

export const recordings = pgTable('recordings', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<RecordingId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  kind: text('kind').$type<'walk_around'>().notNull(),
  mediaType: text('media_type').$type<RecordingMediaType>().notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  seconds: integer('seconds'),
  namesPlace: boolean('names_place').notNull(),
  capturedAt: moment('captured_at'),
  receivedAt: moment('received_at').notNull(),
  receivedFrom: id<PersonId>('received_from').notNull(),
});

export const recordingFiles = pgTable('recording_files', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  recordingId: id<RecordingId>('recording_id').notNull(),
  part: text('part').$type<'film' | 'poster'>().notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  storageKey: text('storage_key').notNull(),
});
