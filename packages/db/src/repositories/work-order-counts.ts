import type { AccountId, PersonId, WaitsFor } from '@grainwright/domain';
import { and, eq, notInArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { visits, workOrders } from '../schema/work-orders.ts';
import { waiting } from './work-order-list.ts';

export type WaitingCounts = Readonly<Record<Exclude<WaitsFor, 'nobody'>, number>>;

/** How many work orders wait for each thing; those that wait for nobody are over, and not counted. */
export async function countWaitingWorkOrders(
  tx: TenantTransaction,
  filter: { readonly accountId?: AccountId | undefined; readonly technicianId?: PersonId | undefined },
): Promise<WaitingCounts> {
  const count = (what: WaitsFor) => sql<number>`(count(*) filter (where ${waiting(what)}))::integer`;
  const [row] = await tx
    .select({
      technician: count('technician'),
      hold: count('hold'),
      approval: count('approval'),
      acceptance: count('acceptance'),
      po: count('po'),
      invoice: count('invoice'),
      money: count('money'),
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        notInArray(workOrders.state, ['paid', 'declined', 'void', 'written_off']),
        filter.accountId && eq(workOrders.accountId, filter.accountId),
        filter.technicianId && eq(visits.technicianId, filter.technicianId),
      ),
    );
  if (row === undefined) throw new Error('a count answered nothing');
  return row;
}
