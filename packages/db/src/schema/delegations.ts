import type { AccountId, DelegationId, PersonId, TenantId } from '@grainwright/domain';
import { pgTable } from 'drizzle-orm/pg-core';
import { day, id, minor, moment } from './columns.ts';

export const approvalDelegations = pgTable('approval_delegations', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<DelegationId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  fromPerson: id<PersonId>('from_person').notNull(),
  toPerson: id<PersonId>('to_person').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to').notNull(),
  limitMinor: minor('limit_minor'),
  madeAt: moment('made_at').notNull(),
  recordedBy: id<PersonId>('recorded_by'),
});

export const approvalDelegationEnds = pgTable('approval_delegation_ends', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  delegationId: id<DelegationId>('delegation_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  endedBy: id<PersonId>('ended_by').notNull(),
  endedAt: moment('ended_at').notNull(),
});
