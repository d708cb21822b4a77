import type { AccountId, CertificateId, HandedInId, PersonId, TenantId } from '@grainwright/domain';
import { pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, moment } from './columns.ts';

export const handedInCertificates = pgTable('handed_in_certificates', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<HandedInId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  kind: text('kind').$type<'resale' | 'exempt_use'>().notNull(),
  number: text('number').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
  handedInBy: id<PersonId>('handed_in_by').notNull(),
  handedInAt: moment('handed_in_at').notNull(),
});

export const certificateChecks = pgTable('certificate_checks', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  handedInId: id<HandedInId>('handed_in_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  answer: text('answer').$type<'confirmed' | 'not_taken'>().notNull(),
  reason: text('reason').notNull().default(''),
  certificateId: id<CertificateId>('certificate_id'),
  checkedBy: id<PersonId>('checked_by').notNull(),
  checkedAt: moment('checked_at').notNull(),
});
