import type { MonthClosingId, PersonId, TenantId } from '@grainwright/domain';
import { integer, pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, moment, whole } from './columns.ts';

export const monthClosings = pgTable('month_closings', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<MonthClosingId>('id').notNull(),
  /** The month's first day. */
  month: day('month').notNull(),
  /** Counted from 1 within the month; the last one says how it stands. */
  step: integer('step').notNull(),
  action: text('action').$type<'closed' | 'reopened'>().notNull(),
  reason: text('reason').notNull().default(''),
  posting: whole('posting').notNull(),
  doneBy: id<PersonId>('done_by').notNull(),
  doneAt: moment('done_at').notNull(),
});
