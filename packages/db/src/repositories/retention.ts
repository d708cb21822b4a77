import type {
  AccountId,
  Day,
  Instant,
  LegalHoldId,
  RetentionKind,
  RetentionRuleId,
  RetentionUnit,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, isNull, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people } from '../schema/accounts.ts';
import { legalHoldEnds, legalHolds, retentionRules, retentionSwitches } from '../schema/retention.ts';
import { workOrders } from '../schema/work-orders.ts';

export type RetentionRuleRow = Omit<typeof retentionRules.$inferSelect, 'tenantId'>;
export type RetentionSwitchRow = Omit<typeof retentionSwitches.$inferSelect, 'tenantId'>;
export type LegalHoldRow = Omit<typeof legalHolds.$inferSelect, 'tenantId'>;

const rulesMax = 500;

/** Every rule that was ever set, with who set it, the newest first. */
export async function listRetentionRules(
  tx: TenantTransaction,
): Promise<readonly (RetentionRuleRow & { readonly setByName: string })[]> {
  const rows = await tx
    .select({ rule: retentionRules, setByName: people.name })
    .from(retentionRules)
    .innerJoin(people, and(eq(people.tenantId, retentionRules.tenantId), eq(people.id, retentionRules.setBy)))
    .where(eq(retentionRules.tenantId, tx.tenantId))
    .orderBy(desc(retentionRules.number), asc(retentionRules.kind))
    .limit(rulesMax);
  return rows.map(({ rule, setByName }) => ({ ...rule, setByName }));
}

/** False when the id is taken; a number that somebody else took meanwhile is thrown. */
export async function insertRetentionRule(tx: TenantTransaction, rule: RetentionRuleRow): Promise<boolean> {
  const inserted = await tx
    .insert(retentionRules)
    .values({ tenantId: tx.tenantId, ...rule })
    .onConflictDoNothing({ target: [retentionRules.tenantId, retentionRules.id] })
    .returning({ id: retentionRules.id });
  return inserted.length === 1;
}

/** Rules are set one after the other. */
export async function lockRetention(tx: TenantTransaction): Promise<void> {
  await tx.execute(
    sql`select pg_advisory_xact_lock(hashtextextended('retention ' || ${tx.tenantId}::text, 0))`,
  );
}

/** The newest turn of the switch; null while it was never switched on. */
export async function findRetentionSwitch(
  tx: TenantTransaction,
): Promise<(RetentionSwitchRow & { readonly setByName: string }) | null> {
  const [row] = await tx
    .select({ turn: retentionSwitches, setByName: people.name })
    .from(retentionSwitches)
    .innerJoin(
      people,
      and(eq(people.tenantId, retentionSwitches.tenantId), eq(people.id, retentionSwitches.setBy)),
    )
    .where(eq(retentionSwitches.tenantId, tx.tenantId))
    .orderBy(desc(retentionSwitches.number))
    .limit(1);
  return row === undefined ? null : { ...row.turn, setByName: row.setByName };
}

export async function insertRetentionSwitch(tx: TenantTransaction, row: RetentionSwitchRow): Promise<void> {
  await tx.insert(retentionSwitches).values({ tenantId: tx.tenantId, ...row });
}

export interface DueRow {
  readonly kind: RetentionKind;
  readonly subjectId: string;
  readonly workOrderId: WorkOrderId | null;
  readonly accountId: AccountId | null;
  readonly endedOn: Day;
  readonly keptThrough: Day;
  readonly bytes: bigint;
  readonly held: boolean;
  readonly ruleId: RetentionRuleId;
  readonly period: number;
  readonly unit: RetentionUnit;
}

type StoredDue = {
  readonly kind: RetentionKind;
  readonly subject_id: string;
  readonly work_order_id: WorkOrderId | null;
  readonly account_id: AccountId | null;
  readonly ended_on: Day;
  readonly kept_through: Day;
  readonly bytes: string;
  readonly held: boolean;
  readonly rule_id: RetentionRuleId;
  readonly period: number;
  readonly unit: RetentionUnit;
};

/** What may go at this moment, longest over first, without what a hold keeps. */
export async function listDue(tx: TenantTransaction, at: Instant, limit: number): Promise<readonly DueRow[]> {
  const rows = await tx.execute<StoredDue>(sql`select d.kind, d.subject_id, d.work_order_id, d.account_id,
      d.ended_on::text, d.kept_through::text, d.bytes, d.held, d.rule_id, d.period, d.unit
    from retention_due(${at}::timestamptz) d
    where d.tenant_id = ${tx.tenantId} and not d.held
    order by d.kept_through, d.kind, d.subject_id limit ${limit}`);
  return [...rows].map((row) => ({
    kind: row.kind,
    subjectId: row.subject_id,
    workOrderId: row.work_order_id,
    accountId: row.account_id,
    endedOn: row.ended_on,
    keptThrough: row.kept_through,
    bytes: BigInt(row.bytes),
    held: row.held,
    ruleId: row.rule_id,
    period: row.period,
    unit: row.unit,
  }));
}

/** What may go of one kind of one work order, or of an account where it is of no work order. */
export interface DueGroup
  extends Pick<DueRow, 'kind' | 'workOrderId' | 'accountId' | 'keptThrough' | 'held'> {
  readonly workOrderNumber: bigint | null;
  readonly accountName: string | null;
  readonly count: number;
  readonly bytes: bigint;
}

type StoredGroup = {
  readonly kind: RetentionKind;
  readonly work_order_id: WorkOrderId | null;
  readonly account_id: AccountId | null;
  readonly kept_through: Day;
  readonly held: boolean;
  readonly number: string | null;
  readonly account_name: string | null;
  readonly count: number;
  readonly bytes: string;
};

/** The same, summed up, what a hold keeps included and said so. */
export async function listDueGroups(
  tx: TenantTransaction,
  at: Instant,
  limit: number,
): Promise<readonly DueGroup[]> {
  const rows = await tx.execute<StoredGroup>(sql`select d.kind, d.work_order_id, d.account_id,
      d.kept_through::text, d.held, w.number::text, a.name as account_name,
      count(*)::integer as count, sum(d.bytes)::text as bytes
    from retention_due(${at}::timestamptz) d
    left join work_orders w on w.tenant_id = d.tenant_id and w.id = d.work_order_id
    left join accounts a on a.tenant_id = d.tenant_id and a.id = d.account_id
    where d.tenant_id = ${tx.tenantId}
    group by d.kind, d.work_order_id, d.account_id, d.kept_through, d.held, w.number, a.name
    order by d.kept_through, w.number, a.name, d.kind, d.held limit ${limit}`);
  return [...rows].map((row) => ({
    kind: row.kind,
    workOrderId: row.work_order_id,
    accountId: row.account_id,
    keptThrough: row.kept_through,
    held: row.held,
    workOrderNumber: row.number === null ? null : BigInt(row.number),
    accountName: row.account_name,
    count: row.count,
    bytes: BigInt(row.bytes),
  }));
}

/** False when the id is taken. */
export async function insertLegalHold(tx: TenantTransaction, hold: LegalHoldRow): Promise<boolean> {
  const inserted = await tx
    .insert(legalHolds)
    .values({ tenantId: tx.tenantId, ...hold })
    .onConflictDoNothing()
    .returning({ id: legalHolds.id });
  return inserted.length === 1;
}

export interface ListedHold extends LegalHoldRow {
  readonly placedByName: string;
  readonly workOrderNumber: bigint | null;
  readonly accountName: string | null;
  /** Null while it stands. */
  readonly ended: {
    readonly at: Instant;
    readonly reason: string;
  } | null;
}

export interface HoldsAsked {
  /** Of this work order, its reworks and what it puts right, and of its account; all where it is left out. */
  readonly of?: { readonly workOrderId: WorkOrderId | null; readonly accountId: AccountId };
  readonly id?: LegalHoldId;
  readonly standingOnly: boolean;
}

const holdsMax = 500;

/** Holds, those that stand first and then the newest. */
export async function listLegalHolds(
  tx: TenantTransaction,
  { of, id, standingOnly }: HoldsAsked,
): Promise<readonly ListedHold[]> {
  const rows = await tx
    .select({
      hold: legalHolds,
      placedByName: people.name,
      workOrderNumber: workOrders.number,
      accountName: accounts.name,
      ended: { at: legalHoldEnds.endedAt, reason: legalHoldEnds.reason },
    })
    .from(legalHolds)
    .innerJoin(people, and(eq(people.tenantId, legalHolds.tenantId), eq(people.id, legalHolds.placedBy)))
    .leftJoin(
      workOrders,
      and(eq(workOrders.tenantId, legalHolds.tenantId), eq(workOrders.id, legalHolds.workOrderId)),
    )
    .leftJoin(
      accounts,
      and(eq(accounts.tenantId, legalHolds.tenantId), eq(accounts.id, legalHolds.accountId)),
    )
    .leftJoin(
      legalHoldEnds,
      and(eq(legalHoldEnds.tenantId, legalHolds.tenantId), eq(legalHoldEnds.holdId, legalHolds.id)),
    )
    .where(
      and(
        eq(legalHolds.tenantId, tx.tenantId),
        id === undefined ? undefined : eq(legalHolds.id, id),
        of === undefined
          ? undefined
          : or(
              eq(legalHolds.accountId, of.accountId),
              of.workOrderId === null ? undefined : eq(legalHolds.workOrderId, of.workOrderId),
              of.workOrderId === null
                ? undefined
                : sql`exists (select from held_work_orders k where k.tenant_id = ${tx.tenantId}::uuid
                    and k.hold_id = ${legalHolds.id} and k.work_order_id = ${of.workOrderId}::uuid)`,
            ),
        standingOnly ? isNull(legalHoldEnds.holdId) : undefined,
      ),
    )
    .orderBy(sql`${legalHoldEnds.holdId} is not null`, desc(legalHolds.placedAt), desc(legalHolds.id))
    .limit(holdsMax);
  return rows.map(({ hold, ...rest }) => ({ ...hold, ...rest }));
}

/** False when it has ended already. */
export async function insertLegalHoldEnd(
  tx: TenantTransaction,
  end: Omit<typeof legalHoldEnds.$inferSelect, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(legalHoldEnds)
    .values({ tenantId: tx.tenantId, ...end })
    .onConflictDoNothing()
    .returning({ holdId: legalHoldEnds.holdId });
  return inserted.length === 1;
}
