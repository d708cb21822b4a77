import type {
  AcceptanceId,
  AccountId,
  ApplicationId,
  CreditNoteId,
  InvoiceId,
  InvoiceLineKind,
  JournalEntryId,
  JournalEvent,
  JsonValue,
  LedgerAccountCode,
  LineId,
  PaymentId,
  PersonId,
  TenantId,
  VisitId,
  WorkOrderId,
} from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import { boolean, integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { day, exact, id, lineCode, minor, moment, trail, whole } from './columns.ts';

export const invoices = pgTable('invoices', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<InvoiceId>('id').notNull(),
  sequence: whole('sequence').notNull(),
  number: text('number').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  visitId: id<VisitId>('visit_id'),
  issuedOn: day('issued_on').notNull(),
  dueOn: day('due_on').notNull(),
  workedOn: day('worked_on'),
  currency: text('currency').notNull(),
  seller: jsonb('seller').$type<JsonValue>().notNull(),
  buyer: jsonb('buyer').$type<JsonValue>().notNull(),
  certificateNumber: text('certificate_number').notNull().default(''),
  basis: jsonb('basis').$type<JsonValue>(),
  certificates: jsonb('certificates').$type<JsonValue>().generatedAlwaysAs(sql`basis -> 'certificates'`),
  netMinor: minor('net_minor').notNull(),
  taxMinor: minor('tax_minor').notNull(),
  totalMinor: minor('total_minor').notNull(),
  issuedBy: id<PersonId>('issued_by').notNull(),
  issuedAt: moment('issued_at').notNull(),
  kind: text('kind')
    .$type<'invoice' | 'return_fee' | 'late_charge' | 'opening_balance'>()
    .notNull()
    .default('invoice'),
  subject: text('subject').notNull().default(''),
});

export const invoiceLines = pgTable('invoice_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  position: integer('position').notNull(),
  kind: text('kind').$type<InvoiceLineKind>().notNull(),
  workOrderId: id<WorkOrderId>('work_order_id'),
  lineId: id<LineId>('line_id'),
  code: lineCode('code').notNull(),
  description: text('description').notNull(),
  trail: trail('trail').notNull().default(''),
  netMinor: minor('net_minor').notNull(),
  laborMinor: minor('labor_minor').notNull(),
  materialsMinor: minor('materials_minor').notNull(),
  visitId: id<VisitId>('visit_id'),
});

export const invoiceVisits = pgTable('invoice_visits', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  visitId: id<VisitId>('visit_id').notNull(),
  position: integer('position').notNull(),
  workedOn: day('worked_on').notNull(),
  place: text('place').notNull(),
  areaCode: text('area_code').notNull(),
  certificateKind: text('certificate_kind').$type<'resale' | 'exempt_use'>(),
  certificateNumber: text('certificate_number').notNull().default(''),
});

export const invoiceWorkOrders = pgTable('invoice_work_orders', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  position: integer('position').notNull(),
  vehicle: text('vehicle').notNull(),
  numbers: text('numbers').notNull().default(''),
  acceptanceId: id<AcceptanceId>('acceptance_id'),
  subtotalMinor: minor('subtotal_minor').notNull(),
});

export const invoiceVoids = pgTable('invoice_voids', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  voidedOn: day('voided_on').notNull(),
  reason: text('reason').notNull(),
  voidedBy: id<PersonId>('voided_by').notNull(),
  voidedAt: moment('voided_at').notNull(),
});

/** What an invoice that stands holds now; a void takes its rows away. */
export const billedWorkOrders = pgTable('billed_work_orders', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
});

export const invoiceTaxes = pgTable('invoice_taxes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  position: integer('position').notNull(),
  areaCode: text('area_code').notNull(),
  areaName: text('area_name').notNull(),
  component: text('component').notNull(),
  ratePercent: exact('rate_percent').notNull(),
  baseMinor: minor('base_minor').notNull(),
  taxMinor: minor('tax_minor').notNull(),
});

export const invoiceTaxBases = pgTable('invoice_tax_bases', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  areaCode: text('area_code').notNull(),
  taxableMinor: minor('taxable_minor').notNull(),
  exemptMinor: minor('exempt_minor').notNull(),
  nonTaxableMinor: minor('non_taxable_minor').notNull(),
});

export const invoiceBalances = pgTable('invoice_balances', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  openMinor: minor('open_minor').notNull(),
});

export const payments = pgTable('payments', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PaymentId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  method: text('method').$type<'check' | 'card' | 'ach' | 'cash' | 'moved' | 'brought_forward'>().notNull(),
  reference: text('reference').notNull().default(''),
  amountMinor: minor('amount_minor').notNull(),
  currency: text('currency').notNull(),
  receivedOn: day('received_on').notNull(),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
  purpose: text('purpose').$type<'payment' | 'deposit'>().notNull().default('payment'),
  workOrderId: id<WorkOrderId>('work_order_id'),
});

export const paymentBalances = pgTable('payment_balances', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  paymentId: id<PaymentId>('payment_id').notNull(),
  unappliedMinor: minor('unapplied_minor').notNull(),
});

export const paymentApplications = pgTable('payment_applications', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<ApplicationId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  paymentId: id<PaymentId>('payment_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  amountMinor: minor('amount_minor').notNull(),
  appliedOn: day('applied_on').notNull(),
  appliedBy: id<PersonId>('applied_by').notNull(),
  appliedAt: moment('applied_at').notNull(),
  byRule: boolean('by_rule').notNull().default(false),
});

export const journalEntries = pgTable('journal_entries', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<JournalEntryId>('id').notNull(),
  posting: whole('posting').notNull(),
  event: text('event').$type<JournalEvent>().notNull(),
  occurredOn: day('occurred_on').notNull(),
  currency: text('currency').notNull(),
  postedBy: id<PersonId>('posted_by').notNull(),
  postedAt: moment('posted_at').notNull(),
});

export const journalLines = pgTable('journal_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  entryId: id<JournalEntryId>('entry_id').notNull(),
  position: integer('position').notNull(),
  ledgerAccount: text('ledger_account').$type<LedgerAccountCode>().notNull(),
  amountMinor: minor('amount_minor').notNull(),
  accountId: id<AccountId>('account_id'),
  invoiceId: id<InvoiceId>('invoice_id'),
  paymentId: id<PaymentId>('payment_id'),
  creditNoteId: id<CreditNoteId>('credit_note_id'),
  taxArea: text('tax_area'),
  taxComponent: text('tax_component'),
});
