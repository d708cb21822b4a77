import type { AccountId, MailId, PersonId, TenantId, VersionId, WorkOrderId } from '@grainwright/domain';
import { integer, pgTable } from 'drizzle-orm/pg-core';
import { day, id, moment } from './columns.ts';

export const approvalReminders = pgTable('approval_reminders', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  versionId: id<VersionId>('version_id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  number: integer('number').notNull(),
  mailId: id<MailId>('mail_id').notNull(),
  remindedAt: moment('reminded_at').notNull(),
});

export const numbersChased = pgTable('numbers_chased', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  chasedOn: day('chased_on').notNull(),
  mailId: id<MailId>('mail_id').notNull(),
  chasedAt: moment('chased_at').notNull(),
});
