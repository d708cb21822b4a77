import type {
  AccountId,
  ApplicationId,
  ClearingMovementId,
  CreditMoveId,
  CreditNoteId,
  InvoiceId,
  OpeningId,
  PaymentId,
  PersonId,
  ReceiptId,
  RefundId,
  ReturnId,
  TenantId,
  UnapplicationId,
} from '@grainwright/domain';
import { pgTable, text } from 'drizzle-orm/pg-core';
import { day, exact, id, minor, moment } from './columns.ts';

export const paymentReturns = pgTable('payment_returns', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<ReturnId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  paymentId: id<PaymentId>('payment_id').notNull(),
  returnedOn: day('returned_on').notNull(),
  reason: text('reason').notNull(),
  feeInvoiceId: id<InvoiceId>('fee_invoice_id'),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
});

export const paymentUnapplications = pgTable('payment_unapplications', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<UnapplicationId>('id').notNull(),
  applicationId: id<ApplicationId>('application_id').notNull(),
  returnId: id<ReturnId>('return_id'),
  unappliedOn: day('unapplied_on').notNull(),
  reason: text('reason').notNull(),
  unappliedBy: id<PersonId>('unapplied_by').notNull(),
  unappliedAt: moment('unapplied_at').notNull(),
});

export const refunds = pgTable('refunds', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<RefundId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  paymentId: id<PaymentId>('payment_id'),
  creditNoteId: id<CreditNoteId>('credit_note_id'),
  amountMinor: minor('amount_minor').notNull(),
  feeKeptMinor: minor('fee_kept_minor').notNull().default(0n),
  method: text('method').$type<'check' | 'card' | 'ach' | 'cash'>().notNull(),
  reference: text('reference').notNull().default(''),
  refundedOn: day('refunded_on').notNull(),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
});

export const creditMoves = pgTable('credit_moves', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<CreditMoveId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  paymentId: id<PaymentId>('payment_id'),
  creditNoteId: id<CreditNoteId>('credit_note_id'),
  toAccountId: id<AccountId>('to_account_id').notNull(),
  toPaymentId: id<PaymentId>('to_payment_id').notNull(),
  amountMinor: minor('amount_minor').notNull(),
  movedOn: day('moved_on').notNull(),
  /** The move that this one undoes. */
  takesBack: id<CreditMoveId>('takes_back'),
  movedBy: id<PersonId>('moved_by').notNull(),
  movedAt: moment('moved_at').notNull(),
});

export const parkedReceipts = pgTable('parked_receipts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<ReceiptId>('id').notNull(),
  method: text('method').$type<'check' | 'card' | 'ach' | 'cash'>().notNull(),
  reference: text('reference').notNull().default(''),
  payer: text('payer').notNull().default(''),
  amountMinor: minor('amount_minor').notNull(),
  currency: text('currency').notNull(),
  receivedOn: day('received_on').notNull(),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
});

export const receiptAssignments = pgTable('receipt_assignments', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  receiptId: id<ReceiptId>('receipt_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  paymentId: id<PaymentId>('payment_id').notNull(),
  assignedOn: day('assigned_on').notNull(),
  assignedBy: id<PersonId>('assigned_by').notNull(),
  assignedAt: moment('assigned_at').notNull(),
});

export const lateCharges = pgTable('late_charges', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  /** The month's first day. */
  month: day('month').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  documentId: id<InvoiceId>('document_id').notNull(),
  baseMinor: minor('base_minor').notNull(),
  percent: exact('percent').notNull(),
});

export const openings = pgTable('openings', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<OpeningId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  broughtOn: day('brought_on').notNull(),
  paymentId: id<PaymentId>('payment_id'),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
});

export const openingItems = pgTable('opening_items', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  openingId: id<OpeningId>('opening_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
});

export const clearingMovements = pgTable('clearing_movements', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<ClearingMovementId>('id').notNull(),
  kind: text('kind').$type<'fee' | 'payout'>().notNull(),
  amountMinor: minor('amount_minor').notNull(),
  occurredOn: day('occurred_on').notNull(),
  reference: text('reference').notNull().default(''),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
});
