import {
  type Day,
  firstDay,
  type Instant,
  type Month,
  type MonthClosingId,
  monthOf,
} from '@grainwright/domain';
import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { monthClosings } from '../schema/months.ts';

/** Those of the months, given by their first days, whose books are closed. */
export async function listClosedMonths(
  tx: TenantTransaction,
  months: readonly Day[],
): Promise<readonly Day[]> {
  if (months.length === 0) return [];
  const rows = await tx
    .select({ month: monthClosings.month, action: monthClosings.action })
    .from(monthClosings)
    .where(and(eq(monthClosings.tenantId, tx.tenantId), inArray(monthClosings.month, [...months])))
    .orderBy(asc(monthClosings.month), asc(monthClosings.step));
  const latest = new Map(rows.map((row) => [row.month, row.action]));
  return [...latest].flatMap(([month, action]) => (action === 'closed' ? [month] : []));
}

type Stored = Omit<typeof monthClosings.$inferSelect, 'tenantId' | 'month'>;
export interface MonthClosing extends Stored {
  readonly month: Month;
}

/** Writes the next step of a month. Whoever does holds the running number of postings. False when the id is taken. */
export async function insertMonthClosing(tx: TenantTransaction, closing: MonthClosing): Promise<boolean> {
  const inserted = await tx
    .insert(monthClosings)
    .values({ tenantId: tx.tenantId, ...closing, month: firstDay(closing.month) })
    .onConflictDoNothing({ target: [monthClosings.tenantId, monthClosings.id] })
    .returning({ id: monthClosings.id });
  return inserted.length === 1;
}

export async function findMonthClosing(
  tx: TenantTransaction,
  id: MonthClosingId,
): Promise<MonthClosing | null> {
  const [row] = await tx
    .select()
    .from(monthClosings)
    .where(and(eq(monthClosings.tenantId, tx.tenantId), eq(monthClosings.id, id)));
  return row === undefined ? null : { ...row, month: monthOf(row.month) };
}

export interface NamedMonthClosing extends MonthClosing {
  readonly doneByName: string;
}

/** What was done to months, the latest first. */
export async function listMonthClosings(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly NamedMonthClosing[]> {
  const rows = await tx
    .select({
      id: monthClosings.id,
      month: monthClosings.month,
      step: monthClosings.step,
      action: monthClosings.action,
      reason: monthClosings.reason,
      posting: monthClosings.posting,
      doneBy: monthClosings.doneBy,
      doneAt: monthClosings.doneAt,
      doneByName: people.name,
    })
    .from(monthClosings)
    .innerJoin(people, and(eq(people.tenantId, monthClosings.tenantId), eq(people.id, monthClosings.doneBy)))
    .where(eq(monthClosings.tenantId, tx.tenantId))
    .orderBy(desc(monthClosings.doneAt), desc(monthClosings.month), desc(monthClosings.step))
    .limit(limit);
  return rows.map((row) => ({ ...row, month: monthOf(row.month) }));
}

/** How a month of the books stands: only months with postings, or that were closed, are there. */
export interface MonthOfBooks {
  readonly month: Month;
  readonly postings: number;
  readonly closed: boolean;
  /** Steps taken so far. */
  readonly steps: number;
  readonly closedAt: Instant | null;
}

/** Every month with postings or closings, the latest first: twelve a year. */
export async function listMonthsOfBooks(tx: TenantTransaction): Promise<readonly MonthOfBooks[]> {
  const rows = await tx.execute<{
    month: Month;
    postings: number;
    closed: boolean;
    steps: number;
    closed_at: Instant | null;
  }>(sql`
    with posted as (
      select date_trunc('month', occurred_on)::date as month, count(*)::integer as postings
      from journal_entries where tenant_id = ${tx.tenantId}::uuid group by 1),
    latest as (
      select distinct on (month) month, step, action,
        to_char(done_at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') as done_at
      from month_closings where tenant_id = ${tx.tenantId}::uuid order by month, step desc)
    select to_char(coalesce(p.month, l.month), 'YYYY-MM') as month, coalesce(p.postings, 0) as postings,
      coalesce(l.action = 'closed', false) as closed, coalesce(l.step, 0) as steps,
      case when l.action = 'closed' then l.done_at end as closed_at
    from posted p full join latest l on l.month = p.month
    order by 1 desc`);
  return rows.map(({ closed_at, ...row }) => ({ ...row, closedAt: closed_at }));
}
