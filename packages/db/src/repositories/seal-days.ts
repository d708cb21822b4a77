import type { AccountId, Day } from '@grainwright/domain';
import { and, asc, desc, eq, gt, gte, lte, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { sealDays } from '../schema/seals.ts';
import type { SealDayRow } from './seals.ts';

/** The newest day that was closed; null before the first. */
export async function findLastSealDay(tx: TenantTransaction): Promise<SealDayRow | null> {
  const [row] = await tx
    .select()
    .from(sealDays)
    .where(eq(sealDays.tenantId, tx.tenantId))
    .orderBy(desc(sealDays.number))
    .limit(1);
  return row === undefined ? null : withoutTenant(row);
}

export async function findSealDay(tx: TenantTransaction, day: Day): Promise<SealDayRow | null> {
  const [row] = await tx
    .select()
    .from(sealDays)
    .where(and(eq(sealDays.tenantId, tx.tenantId), eq(sealDays.day, day)));
  return row === undefined ? null : withoutTenant(row);
}

/** Days behind a number, in their order. */
export async function listSealDaysAfter(
  tx: TenantTransaction,
  after: number,
  limit: number,
): Promise<readonly SealDayRow[]> {
  const rows = await tx
    .select()
    .from(sealDays)
    .where(and(eq(sealDays.tenantId, tx.tenantId), gt(sealDays.number, after)))
    .orderBy(asc(sealDays.number))
    .limit(limit);
  return rows.map(withoutTenant);
}

/** From a day to a day, both included, the newest first. */
export async function listSealDaysBetween(
  tx: TenantTransaction,
  { from, to, limit }: { readonly from: Day; readonly to: Day; readonly limit: number },
): Promise<readonly SealDayRow[]> {
  const rows = await tx
    .select()
    .from(sealDays)
    .where(and(eq(sealDays.tenantId, tx.tenantId), gte(sealDays.day, from), lte(sealDays.day, to)))
    .orderBy(desc(sealDays.day))
    .limit(limit);
  return rows.map(withoutTenant);
}

/** The day that a seal is in; null while it is not over. */
export async function findSealDayOf(tx: TenantTransaction, number: number): Promise<SealDayRow | null> {
  const [row] = await tx
    .select()
    .from(sealDays)
    .where(and(eq(sealDays.tenantId, tx.tenantId), lte(sealDays.firstNumber, number)))
    .orderBy(desc(sealDays.firstNumber))
    .limit(1);
  return row === undefined || row.firstNumber + row.size <= number ? null : withoutTenant(row);
}

/** How many records of each account that are of a day or before are not under its root or that of one before it. */
export async function countUnsealedOf(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
  { day, timeZone }: { readonly day: Day; readonly timeZone: string },
): Promise<ReadonlyMap<AccountId, number>> {
  const tenant = sql`tenant_id = ${tx.tenantId}::uuid`;
  const over = sql`happened_at < (${day}::date + 1)::timestamp at time zone ${timeZone}`;
  const rows = await tx.execute<{ account_id: AccountId; unsealed: number }>(sql`
    select account_id, count(*)::integer as unsealed from (
      select account_id from seal_requests where ${tenant} and seal_number is null and ${over}
      union all
      select account_id from seals where ${tenant} and sealed_on > ${day}::date and ${over}
    ) late
    where account_id in (${sql.join(
      accountIds.map((id) => sql`${id}::uuid`),
      sql`, `,
    )})
    group by account_id`);
  return new Map([...rows].map((row) => [row.account_id, row.unsealed]));
}

function withoutTenant({ tenantId: _tenantId, ...row }: typeof sealDays.$inferSelect): SealDayRow {
  return row;
}
