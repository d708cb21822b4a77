import type { AccountId, PersonId, SealKind, SigningKeyId, TenantId, WorkOrderId } from '@grainwright/domain';
import { bigint, integer, pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, moment } from './columns.ts';

/** A place in a chain: counted up one by one, it stays far below what a number holds exactly. */
const place = (name: string) => bigint(name, { mode: 'number' });

export const signingKeys = pgTable('signing_keys', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<SigningKeyId>('id').notNull(),
  number: integer('number').notNull(),
  keyId: text('key_id').notNull(),
  publicKey: text('public_key').notNull(),
  salt: text('salt').notNull(),
  cause: text('cause').$type<'first' | 'rotated' | 'secret_changed'>().notNull(),
  /** Null where the background began it by itself. */
  madeBy: id<PersonId>('made_by'),
  madeAt: moment('made_at').notNull(),
});

export const sealRequests = pgTable('seal_requests', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  kind: text('kind').$type<SealKind>().notNull(),
  subjectId: id('subject_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id'),
  accountId: id<AccountId>('account_id'),
  happenedAt: moment('happened_at').notNull(),
  sealNumber: place('seal_number'),
});

export const seals = pgTable('seals', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  number: place('number').notNull(),
  kind: text('kind').$type<SealKind>().notNull(),
  subjectId: id('subject_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id'),
  accountId: id<AccountId>('account_id'),
  happenedAt: moment('happened_at').notNull(),
  sealedAt: moment('sealed_at').notNull(),
  sealedOn: day('sealed_on').notNull(),
  previous: text('previous'),
  text: text('text').notNull(),
  sha256: text('sha256').notNull(),
  content: text('content').notNull(),
  contentSha256: text('content_sha256').notNull(),
  /** The staff's own to show; see `WithheldFacts`. */
  withheld: text('withheld'),
  keyId: text('key_id').notNull(),
  signature: text('signature').notNull(),
});

export const sealDays = pgTable('seal_days', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  day: day('day').notNull(),
  number: place('number').notNull(),
  firstNumber: place('first_number').notNull(),
  size: integer('size').notNull(),
  root: text('root').notNull(),
  leaves: text('leaves').array().notNull(),
  previous: text('previous'),
  auditNumber: place('audit_number'),
  auditSha256: text('audit_sha256'),
  text: text('text').notNull(),
  sha256: text('sha256').notNull(),
  keyId: text('key_id').notNull(),
  signature: text('signature').notNull(),
  closedAt: moment('closed_at').notNull(),
});

export const auditWaiting = pgTable('audit_waiting', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  auditId: id('audit_id').notNull(),
});

export const auditLinks = pgTable('audit_links', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  number: place('number').notNull(),
  auditId: id('audit_id').notNull(),
  previous: text('previous'),
  recordSha256: text('record_sha256').notNull(),
  sha256: text('sha256').notNull(),
  chainedAt: moment('chained_at').notNull(),
});

export const chainHeads = pgTable('chain_heads', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  chain: text('chain').$type<'seals' | 'seal_days' | 'audit'>().notNull(),
  number: place('number').notNull(),
  sha256: text('sha256'),
});
