import type { AccountId, MailId, PersonId, StatementId, StatementRunId, TenantId } from '@grainwright/domain';
import { boolean, integer, pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, minor, moment, whole } from './columns.ts';

export const statements = pgTable('statements', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<StatementId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  /** The month's first day. */
  month: day('month').notNull(),
  kind: text('kind').$type<'open_item' | 'balance_forward'>().notNull(),
  posting: whole('posting').notNull(),
  previousId: id<StatementId>('previous_id'),
  currency: text('currency').notNull(),
  openingMinor: minor('opening_minor').notNull(),
  chargesMinor: minor('charges_minor').notNull(),
  creditsMinor: minor('credits_minor').notNull(),
  paymentsMinor: minor('payments_minor').notNull(),
  closingMinor: minor('closing_minor').notNull(),
  content: text('content').notNull(),
  sha256: text('sha256').notNull(),
  issuedBy: id<PersonId>('issued_by').notNull(),
  issuedAt: moment('issued_at').notNull(),
});

export const statementFiles = pgTable('statement_files', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  statementId: id<StatementId>('statement_id').notNull(),
  kind: text('kind').$type<'pdf' | 'csv'>().notNull(),
  storageKey: text('storage_key').notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  madeAt: moment('made_at').notNull(),
});

export const statementRuns = pgTable('statement_runs', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<StatementRunId>('id').notNull(),
  /** The month's first day. */
  month: day('month').notNull(),
  allAccounts: boolean('all_accounts').notNull(),
  askedBy: id<PersonId>('asked_by').notNull(),
  askedAt: moment('asked_at').notNull(),
});

export const statementRunAccounts = pgTable('statement_run_accounts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  runId: id<StatementRunId>('run_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  state: text('state')
    .$type<'waiting' | 'issued' | 'issued_before' | 'nothing_to_tell' | 'failed'>()
    .notNull()
    .default('waiting'),
  statementId: id<StatementId>('statement_id'),
  problem: text('problem').notNull().default(''),
});

export const outgoingMails = pgTable('outgoing_mails', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<MailId>('id').notNull(),
  kind: text('kind')
    .$type<
      | 'statement'
      | 'estimate'
      | 'estimate_reminder'
      | 'numbers_wanted'
      | 'message'
      | 'answer_copy'
      | 'acceptance'
    >()
    .notNull(),
  accountId: id<AccountId>('account_id'),
  aboutId: id('about_id').notNull(),
  senderName: text('sender_name').notNull(),
  replyTo: text('reply_to').notNull().default(''),
  recipients: text('recipients').array().notNull(),
  subjectLine: text('subject_line').notNull(),
  body: text('body').notNull(),
  state: text('state').$type<'queued' | 'sent' | 'kept' | 'failed'>().notNull().default('queued'),
  tries: integer('tries').notNull().default(0),
  problem: text('problem').notNull().default(''),
  queuedBy: id<PersonId>('queued_by').notNull(),
  queuedAt: moment('queued_at').notNull(),
  settledAt: moment('settled_at'),
});

export const outgoingMailAttachments = pgTable('outgoing_mail_attachments', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  mailId: id<MailId>('mail_id').notNull(),
  position: integer('position').notNull(),
  fileName: text('file_name').notNull(),
  mediaType: text('media_type').notNull(),
  storageKey: text('storage_key'),
  statementId: id<StatementId>('statement_id'),
});
