import { type AccountId, type Instant, instant, type WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray, isNull, ne, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { decisions, vehicles, workOrders } from '../schema/work-orders.ts';
import { numberMissing } from './work-order-list.ts';

/** Finished work that an account still owes something for. */
export type OwedWork = Awaited<ReturnType<typeof listWorkOwingNumbers>>[number];

/**
 * Work that is finished and lacks a number which the account wants on its invoice, the oldest first; of these work
 * orders alone where they are named.
 */
export async function listWorkOwingNumbers(
  tx: TenantTransaction,
  accountId: AccountId,
  limit: number,
  among?: readonly WorkOrderId[],
) {
  return selectOwed(
    tx,
    accountId,
    and(
      inArray(workOrders.state, ['done', 'accepted']),
      isNull(workOrders.reworkOfId),
      numberMissing,
      among && inArray(workOrders.id, [...among]),
    ),
    limit,
  );
}

/** The purchase orders that these work orders name. */
export async function listPoNumbersOf(
  tx: TenantTransaction,
  ids: readonly WorkOrderId[],
): Promise<ReadonlySet<string>> {
  const rows = await tx
    .selectDistinct({ number: workOrders.poNumber })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, [...ids])));
  return new Set(rows.map(({ number }) => number));
}

/** Work that is finished and waits for somebody of the account to accept it, the oldest first. */
export async function listWorkToAccept(tx: TenantTransaction, accountId: AccountId, limit: number) {
  return selectOwed(
    tx,
    accountId,
    and(eq(workOrders.state, 'done'), eq(accounts.acceptanceRule, 'account_representative')),
    limit,
  );
}

async function selectOwed(
  tx: TenantTransaction,
  accountId: AccountId,
  condition: SQL | undefined,
  limit: number,
) {
  return tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      ownNumber: workOrders.ownNumber,
      roNumber: workOrders.roNumber,
      poNumber: workOrders.poNumber,
      ownNumberKind: accounts.ownNumberKind,
      ownNumberRequired: accounts.ownNumberRequired,
      requiresRo: accounts.requiresRo,
      requiresPo: accounts.requiresPo,
      vehicle: vehicles,
      finishedAt,
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.accountId, accountId), condition))
    .orderBy(asc(workOrders.number))
    .limit(limit);
}

const finishedAt = sql<Instant | null>`(select max(s.happened_at) from work_order_steps s
  where s.tenant_id = ${workOrders.tenantId} and s.work_order_id = ${workOrders.id} and s.event = 'finished')`.mapWith(
  (text: string) => instant(text.replace(' ', 'T')),
);

/** What was approved on a purchase order and is on no invoice yet, with tax. */
export interface ApprovedOnOrder {
  readonly number: string;
  readonly workOrders: number;
  readonly approvedMinor: bigint;
}

/** By purchase order number; each vehicle with its own trip, so that a visit of several comes to less. */
export async function sumApprovedOnOrders(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly ApprovedOnOrder[]> {
  const rows = await tx
    .select({
      number: workOrders.poNumber,
      workOrders: sql<number>`count(*)::integer`,
      approved: sql<string>`sum(${decisions.totalMinor})`,
    })
    .from(workOrders)
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.accountId, accountId),
        ne(workOrders.poNumber, ''),
        inArray(workOrders.state, ['approved', 'in_work', 'done', 'accepted']),
        isNull(workOrders.reworkOfId),
      ),
    )
    .groupBy(workOrders.poNumber);
  return rows.map(({ approved, ...row }) => ({ ...row, approvedMinor: BigInt(approved) }));
}
