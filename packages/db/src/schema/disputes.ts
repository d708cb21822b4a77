import type {
  AccountId,
  CreditNoteId,
  DisputeAnswer,
  DisputeId,
  DisputeReason,
  InvoiceId,
  LineId,
  PersonId,
  TenantId,
} from '@grainwright/domain';
import { boolean, pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, minor, moment } from './columns.ts';

export const disputes = pgTable('disputes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<DisputeId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  lineId: id<LineId>('line_id'),
  amountMinor: minor('amount_minor').notNull(),
  reason: text('reason').$type<DisputeReason>().notNull(),
  note: text('note').notNull().default(''),
  openedOn: day('opened_on').notNull(),
  byContact: boolean('by_contact').notNull(),
  openedBy: id<PersonId>('opened_by').notNull(),
  openedAt: moment('opened_at').notNull(),
});

export const disputeAnswers = pgTable('dispute_answers', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  disputeId: id<DisputeId>('dispute_id').notNull(),
  answer: text('answer').$type<DisputeAnswer>().notNull(),
  creditNoteId: id<CreditNoteId>('credit_note_id'),
  note: text('note').notNull().default(''),
  answeredOn: day('answered_on').notNull(),
  answeredBy: id<PersonId>('answered_by').notNull(),
  answeredAt: moment('answered_at').notNull(),
});
