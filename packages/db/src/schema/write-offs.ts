import type {
  AccountId,
  DiscountId,
  InvoiceId,
  PersonId,
  TenantId,
  WriteOffId,
  WriteOffKind,
} from '@grainwright/domain';
import { integer, pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, minor, moment } from './columns.ts';

export const writeOffs = pgTable('write_offs', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<WriteOffId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  kind: text('kind').$type<WriteOffKind>().notNull(),
  amountMinor: minor('amount_minor').notNull(),
  reason: text('reason').notNull().default(''),
  writtenOffOn: day('written_off_on').notNull(),
  writtenOffBy: id<PersonId>('written_off_by').notNull(),
  writtenOffAt: moment('written_off_at').notNull(),
});

export const writeOffTaxes = pgTable('write_off_taxes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  writeOffId: id<WriteOffId>('write_off_id').notNull(),
  position: integer('position').notNull(),
  areaCode: text('area_code').notNull(),
  component: text('component').notNull(),
  taxMinor: minor('tax_minor').notNull(),
});

export const writeOffRecoveries = pgTable('write_off_recoveries', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  writeOffId: id<WriteOffId>('write_off_id').notNull(),
  reason: text('reason').notNull(),
  recoveredOn: day('recovered_on').notNull(),
  recoveredBy: id<PersonId>('recovered_by').notNull(),
  recoveredAt: moment('recovered_at').notNull(),
});

export const discountsTaken = pgTable('discounts_taken', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<DiscountId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  invoiceId: id<InvoiceId>('invoice_id').notNull(),
  amountMinor: minor('amount_minor').notNull(),
  reason: text('reason').notNull(),
  takenOn: day('taken_on').notNull(),
  takenBy: id<PersonId>('taken_by').notNull(),
  takenAt: moment('taken_at').notNull(),
});
