import type { AccessLinkId, AccountId, PersonId, TenantId, WorkOrderId } from '@grainwright/domain';
import { pgTable, text } from 'drizzle-orm/pg-core';
import { id, moment } from './columns.ts';

export const accessLinks = pgTable('access_links', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<AccessLinkId>('id').notNull(),
  purpose: text('purpose').$type<'approval' | 'acceptance' | 'acceptance_copy'>().notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  personId: id<PersonId>('person_id'),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  secretHash: text('secret_hash').notNull(),
  madeBy: id<PersonId>('made_by').notNull(),
  madeAt: moment('made_at').notNull(),
  expiresAt: moment('expires_at').notNull(),
  revokedAt: moment('revoked_at'),
});

export const acceptanceRequests = pgTable('acceptance_requests', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  linkId: id<AccessLinkId>('link_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  ownerName: text('owner_name').notNull(),
  phone: text('phone').notNull().default(''),
  email: text('email').notNull().default(''),
  unansweredAt: moment('unanswered_at'),
});
