import type { AccountId, Instant, JsonValue, PersonId, TenantId } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import { jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { id, moment } from './columns.ts';

export const auditRecords = pgTable('audit_records', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  at: moment('at').notNull(),
  /** Null where somebody who is nobody of ours did it, by a link. */
  personId: id<PersonId>('person_id'),
  accountId: id<AccountId>('account_id'),
  action: text('action').notNull(),
  subjectKind: text('subject_kind').notNull(),
  subjectId: id('subject_id').notNull(),
  detail: jsonb('detail').$type<JsonValue>().notNull(),
  fromAddress: text('from_address').notNull().default(''),
  /** By the clock of the phone it was done on without signal; out of `detail`, which is chained. */
  madeOnPhoneAt: text('made_on_phone_at')
    .$type<Instant>()
    .generatedAlwaysAs(sql`detail ->> 'made_on_phone_at'`),
});
