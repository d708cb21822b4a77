import type { AccountId, MembershipId, PersonId, TenantId, UserId } from '@grainwright/domain';
import { integer, pgSchema, text } from 'drizzle-orm/pg-core';
import { id, moment } from './columns.ts';

const registry = pgSchema('registry');

export const tenants = registry.table('tenants', {
  id: id<TenantId>('id').notNull(),
  name: text('name').notNull(),
  createdAt: moment('created_at').notNull(),
});

export const users = registry.table('users', {
  id: id<UserId>('id').notNull(),
  email: text('email').notNull(),
  passwordHash: text('password_hash').notNull(),
  createdAt: moment('created_at').notNull(),
  disabledAt: moment('disabled_at'),
});

export const memberships = registry.table('memberships', {
  id: id<MembershipId>('id').notNull(),
  userId: id<UserId>('user_id').notNull(),
  tenantId: id<TenantId>('tenant_id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  accountId: id<AccountId>('account_id'),
  joinCodeHash: text('join_code_hash'),
});

export const sessions = registry.table('sessions', {
  idHash: text('id_hash').notNull(),
  userId: id<UserId>('user_id').notNull(),
  membershipId: id<MembershipId>('membership_id'),
  expiresAt: moment('expires_at').notNull(),
  endsAt: moment('ends_at').notNull(),
});

export const signInFailures = registry.table('sign_in_failures', {
  keyHash: text('key_hash').notNull(),
  failures: integer('failures').notNull(),
  windowEndsAt: moment('window_ends_at').notNull(),
});
