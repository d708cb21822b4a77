import {
  type AccountId,
  type Day,
  type PersonId,
  toId,
  type WaitsFor,
  type WorkOrderId,
} from '@grainwright/domain';
import { type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people } from '../schema/accounts.ts';
import { visits, workOrders } from '../schema/work-orders.ts';
import { waiting } from './work-order-list.ts';

export interface BoardFilter {
  readonly accountId?: AccountId | undefined;
  readonly technicianId?: PersonId | undefined;
}

/** What of a work order is on the board, and since which day of the business it has waited: that of its last step. */
export interface BoardPlace {
  readonly id: WorkOrderId;
  readonly since: Day;
}

const waited = [
  'technician',
  'hold',
  'approval',
  'po',
  'acceptance',
  'invoice',
  'money',
] as const satisfies readonly WaitsFor[];

/** The work orders that have waited longest for each thing, so many of each: one statement over those not over yet. */
export async function listLongestWaiting(
  tx: TenantTransaction,
  filter: BoardFilter,
  asked: { readonly ofEach: number; readonly timeZone: string },
): Promise<readonly BoardPlace[]> {
  const cases = waited.map((each) => sql`when ${waiting(each)} then ${each}`);
  const rows = await tx.execute<{ id: string; since: Day }>(sql`
    with open_work as (
      select ${workOrders.id} as id, ${workOrders.number} as number, case ${sql.join(cases, sql` `)} end as waits_for,
        (select max(s.happened_at) from work_order_steps s
          where s.tenant_id = ${tx.tenantId} and s.work_order_id = ${workOrders.id}) as since
      ${openWork(tx, filter)}),
    ranked as (
      select *, row_number() over (partition by waits_for order by since, number) as place
      from open_work where waits_for is not null)
    select id, (since at time zone ${asked.timeZone})::date::text as since from ranked
    where place <= ${asked.ofEach} order by place`);
  return rows.map(({ id, since }) => ({ id: toId<WorkOrderId>(id), since }));
}

/** Whose visits have work that is not over yet, by name: whom the board can be narrowed to. */
export async function listBoardTechnicians(
  tx: TenantTransaction,
  filter: BoardFilter,
  limit: number,
): Promise<readonly { readonly id: PersonId; readonly name: string }[]> {
  const rows = await tx.execute<{ id: string; name: string }>(sql`
    select p.id, p.name from ${people} p
    where p.tenant_id = ${tx.tenantId} and p.id in (select ${visits.technicianId} ${openWork(tx, filter)})
    order by p.name, p.id limit ${limit}`);
  return rows.map(({ id, name }) => ({ id: toId<PersonId>(id), name }));
}

function openWork(tx: TenantTransaction, { accountId, technicianId }: BoardFilter): SQL {
  return sql`from ${workOrders}
    join ${accounts} on ${accounts.tenantId} = ${workOrders.tenantId} and ${accounts.id} = ${workOrders.accountId}
    join ${visits} on ${visits.tenantId} = ${workOrders.tenantId} and ${visits.id} = ${workOrders.visitId}
    where ${workOrders.tenantId} = ${tx.tenantId} and ${workOrders.state} not in ('paid', 'declined', 'void', 'written_off')
      ${accountId === undefined ? sql`` : sql`and ${workOrders.accountId} = ${accountId}`}
      ${technicianId === undefined ? sql`` : sql`and ${visits.technicianId} = ${technicianId}`}`;
}
