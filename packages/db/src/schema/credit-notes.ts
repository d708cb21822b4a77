import type {
  AccountId,
  ApplicationId,
  CreditNoteId,
  InvoiceId,
  InvoiceLineKind,
  JsonValue,
  LineId,
  PersonId,
  TenantId,
  WorkOrderId,
} from '@grainwright/domain';
import { integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { day, exact, id, minor, moment, whole } from './columns.ts';

export const creditNotes = pgTable('credit_notes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<CreditNoteId>('id').notNull(),
  sequence: whole('sequence').notNull(),
  number: text('number').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  issuedOn: day('issued_on').notNull(),
  currency: text('currency').notNull(),
  reason: text('reason').notNull(),
  seller: jsonb('seller').$type<JsonValue>().notNull(),
  buyer: jsonb('buyer').$type<JsonValue>().notNull(),
  remaining: jsonb('remaining').$type<JsonValue>().notNull(),
  asked: jsonb('asked').$type<JsonValue>().notNull(),
  netMinor: minor('net_minor').notNull(),
  taxMinor: minor('tax_minor').notNull(),
  totalMinor: minor('total_minor').notNull(),
  issuedBy: id<PersonId>('issued_by').notNull(),
  issuedAt: moment('issued_at').notNull(),
});

export const creditNoteLines = pgTable('credit_note_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  creditNoteId: id<CreditNoteId>('credit_note_id').notNull(),
  position: integer('position').notNull(),
  kind: text('kind').$type<InvoiceLineKind>().notNull(),
  workOrderId: id<WorkOrderId>('work_order_id'),
  lineId: id<LineId>('line_id'),
  description: text('description').notNull(),
  netMinor: minor('net_minor').notNull(),
  laborMinor: minor('labor_minor').notNull(),
  materialsMinor: minor('materials_minor').notNull(),
});

export const creditNoteTaxes = pgTable('credit_note_taxes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  creditNoteId: id<CreditNoteId>('credit_note_id').notNull(),
  position: integer('position').notNull(),
  areaCode: text('area_code').notNull(),
  areaName: text('area_name').notNull(),
  component: text('component').notNull(),
  ratePercent: exact('rate_percent').notNull(),
  baseMinor: minor('base_minor').notNull(),
  taxMinor: minor('tax_minor').notNull(),
});

export const creditNoteTaxBases = pgTable('credit_note_tax_bases', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  creditNoteId: id<CreditNoteId>('credit_note_id').notNull(),
  areaCode: text('area_code').notNull(),
  taxableMinor: minor('taxable_minor').notNull(),
  exemptMinor: minor('exempt_minor').notNull(),
  nonTaxableMinor: minor('non_taxable_minor').notNull(),
});

export const creditNoteBalances = pgTable('credit_note_balances', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  creditNoteId: id<CreditNoteId>('credit_note_id').notNull(),
  unappliedMinor: minor('unapplied_minor').notNull(),
});

export const creditNoteApplications = pgTable('credit_note_applications', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<ApplicationId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  creditNoteId: id<CreditNoteId>('credit_note_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  amountMinor: minor('amount_minor').notNull(),
  appliedOn: day('applied_on').notNull(),
  appliedBy: id<PersonId>('applied_by').notNull(),
  appliedAt: moment('applied_at').notNull(),
});
