import type { PersonId, TenantId, UploadId } from '@grainwright/domain';
import { pgTable, text } from 'drizzle-orm/pg-core';
import { id, moment, whole } from './columns.ts';

export const uploads = pgTable('uploads', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<UploadId>('id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  mediaType: text('media_type').notNull(),
  bytes: whole('bytes').notNull(),
  sha256: text('sha256').notNull(),
  begunAt: moment('begun_at').notNull(),
  lastPartAt: moment('last_part_at').notNull(),
  /** The photo or recording that it has become. */
  usedFor: id('used_for'),
  usedAt: moment('used_at'),
});

export const uploadParts = pgTable('upload_parts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  uploadId: id<UploadId>('upload_id').notNull(),
  partOffset: whole('part_offset').notNull(),
  bytes: whole('bytes').notNull(),
  sha256: text('sha256').notNull(),
  storageKey: text('storage_key').notNull(),
  receivedAt: moment('received_at').notNull(),
});
