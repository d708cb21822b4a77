import type {
  AccountId,
  DeletionId,
  LegalHoldId,
  PersonId,
  RetentionKind,
  RetentionRuleId,
  RetentionUnit,
  TenantId,
  WorkOrderId,
} from '@grainwright/domain';
import { boolean, integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { day, id, moment, whole } from './columns.ts';

export const retentionRules = pgTable('retention_rules', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<RetentionRuleId>('id').notNull(),
  kind: text('kind').$type<RetentionKind>().notNull(),
  number: integer('number').notNull(),
  /** Null: kept for good. */
  period: integer('period'),
  unit: text('unit').$type<RetentionUnit>(),
  reason: text('reason').notNull().default(''),
  setBy: id<PersonId>('set_by').notNull(),
  setAt: moment('set_at').notNull(),
  /** A shorter period waits, so that a mistake can be stopped. */
  effectiveAt: moment('effective_at').notNull(),
});

export const retentionSwitches = pgTable('retention_switches', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  /** The newest one counts. */
  number: integer('number').notNull(),
  isOn: boolean('is_on').notNull(),
  setBy: id<PersonId>('set_by').notNull(),
  setAt: moment('set_at').notNull(),
});

/** Of one work order, or of all of an account. */
export const legalHolds = pgTable('legal_holds', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<LegalHoldId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id'),
  accountId: id<AccountId>('account_id'),
  reason: text('reason').notNull(),
  placedBy: id<PersonId>('placed_by').notNull(),
  placedAt: moment('placed_at').notNull(),
});

export const legalHoldEnds = pgTable('legal_hold_ends', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  holdId: id<LegalHoldId>('hold_id').notNull(),
  reason: text('reason').notNull(),
  endedBy: id<PersonId>('ended_by').notNull(),
  endedAt: moment('ended_at').notNull(),
});

/** A file that went. Words that were kept in the database have no place of their own. */
export interface DeletedFile {
  readonly what: string;
  readonly sha256: string;
  readonly bytes: string;
  readonly storage_key: string | null;
}

export const deletions = pgTable('deletions', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<DeletionId>('id').notNull(),
  kind: text('kind').$type<RetentionKind>().notNull(),
  subjectId: id('subject_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id'),
  accountId: id<AccountId>('account_id'),
  ruleId: id<RetentionRuleId>('rule_id').notNull(),
  period: integer('period').notNull(),
  unit: text('unit').$type<RetentionUnit>().notNull(),
  endedOn: day('ended_on').notNull(),
  files: jsonb('files').$type<readonly DeletedFile[]>().notNull(),
  bytes: whole('bytes').notNull(),
  deletedAt: moment('deleted_at').notNull(),
});

export const deletionRemovals = pgTable('deletion_removals', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  deletionId: id<DeletionId>('deletion_id').notNull(),
  objectsRemoved: integer('objects_removed').notNull(),
  /** Bytes that something else still needs. */
  objectsShared: integer('objects_shared').notNull(),
  removedAt: moment('removed_at').notNull(),
});
