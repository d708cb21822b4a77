import type {
  AccessLinkId,
  AccountId,
  ApprovalAskId,
  JsonValue,
  MailId,
  PassedOnId,
  PersonId,
  TenantId,
  VersionId,
  WorkOrderId,
} from '@grainwright/domain';
import { jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { id, minor, moment } from './columns.ts';

export const passedOnAnswers = pgTable('passed_on_answers', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PassedOnId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  versionId: id<VersionId>('version_id').notNull(),
  digest: text('digest').notNull(),
  passedBy: id<PersonId>('passed_by').notNull(),
  linkId: id<AccessLinkId>('link_id'),
  answers: jsonb('answers').$type<JsonValue>().notNull(),
  comparedMinor: minor('compared_minor').notNull(),
  totalMinor: minor('total_minor').notNull(),
  limitMinor: minor('limit_minor').notNull(),
  passedTo: id<PersonId>('passed_to'),
  passedAt: moment('passed_at').notNull(),
});

export const approvalAsks = pgTable('approval_asks', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<ApprovalAskId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  versionId: id<VersionId>('version_id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  why: text('why').$type<'first' | 'above_limit' | 'passed_on' | 'asked_again' | 'delegate'>().notNull(),
  passedOnId: id<PassedOnId>('passed_on_id'),
  linkId: id<AccessLinkId>('link_id').notNull(),
  mailId: id<MailId>('mail_id').notNull(),
  askedBy: id<PersonId>('asked_by').notNull(),
  askedAt: moment('asked_at').notNull(),
});
