import type { AccountId, Day, DecisionId, VersionId, VisitId, WorkOrderId } from '@grainwright/domain';
import { and, asc, between, desc, eq, inArray, isNull, ne, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import {
  decisionLines,
  decisions,
  estimateLines,
  estimateVersions,
  vehicles,
  visits,
  workOrderLines,
  workOrders,
} from '../schema/work-orders.ts';
import type { EstimateLineRow } from './estimates.ts';
import type { VehicleRow } from './vehicles.ts';
import type { WorkOrderLineRow } from './work-order-lines.ts';

/** From here on the database refuses to change a row in this transaction. */
export async function forbidChanges(tx: TenantTransaction): Promise<void> {
  await tx.execute(sql`set transaction read only`);
}

/** A work order with the prices that were agreed to, or asked for while nobody has answered. */
export interface PricedWorkRow {
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly ownNumber: string;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly visitId: VisitId;
  readonly day: Day;
  readonly vehicle: VehicleRow;
  readonly versionId: VersionId;
  readonly decisionId: DecisionId | null;
  readonly rateDay: Day;
  readonly rules: (typeof estimateVersions.$inferSelect)['rules'];
  readonly repairsMinor: bigint;
}

/** Work of some days, of one account or all, that has a price, the newest first. What was declined or voided is not there. Bounded by `limit`. */
export async function listPricedWork(
  tx: TenantTransaction,
  which: { readonly from: Day; readonly to: Day; readonly accountId: AccountId | null },
  limit: number,
): Promise<readonly PricedWorkRow[]> {
  return tx
    .select({
      workOrderId: workOrders.id,
      number: workOrders.number,
      ownNumber: workOrders.ownNumber,
      accountId: accounts.id,
      accountName: accounts.name,
      visitId: visits.id,
      day: visits.day,
      vehicle: vehicles,
      versionId: estimateVersions.id,
      decisionId: decisions.id,
      rateDay: estimateVersions.rateDay,
      rules: estimateVersions.rules,
      repairsMinor:
        sql<bigint>`coalesce(${decisions.repairsMinor}, ${estimateVersions.repairsMinor})`.mapWith(
          estimateVersions.repairsMinor,
        ),
    })
    .from(workOrders)
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .leftJoin(
      decisions,
      and(
        eq(decisions.tenantId, workOrders.tenantId),
        eq(decisions.id, workOrders.decisionId),
        // While a newer version waits for its answer, that one is what is asked for.
        ne(workOrders.state, 'awaiting_approval'),
      ),
    )
    .innerJoin(
      estimateVersions,
      and(
        eq(estimateVersions.tenantId, workOrders.tenantId),
        sql`${estimateVersions.id} = coalesce(${decisions.versionId}, ${workOrders.currentVersionId})`,
      ),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.state, [
          'awaiting_approval',
          'approved',
          'in_work',
          'done',
          'accepted',
          'invoiced',
          'paid',
          'written_off',
        ]),
        between(visits.day, which.from, which.to),
        which.accountId === null ? undefined : eq(workOrders.accountId, which.accountId),
      ),
    )
    .orderBy(desc(visits.day), desc(workOrders.number))
    .limit(limit);
}

export interface PricedWorkLine {
  readonly line: EstimateLineRow;
  /** As the answer froze it, or as it was asked for. */
  readonly netMinor: bigint;
  readonly trail: string;
  /** How it was written up; null where that is gone. */
  readonly writtenUp: WorkOrderLineRow | null;
}

/** The lines of those versions in the order written, without what was declined. */
export async function listPricedWorkLines(
  tx: TenantTransaction,
  versionIds: readonly VersionId[],
): Promise<readonly PricedWorkLine[]> {
  if (versionIds.length === 0) return [];
  return tx
    .select({
      line: estimateLines,
      netMinor: sql<bigint>`coalesce(${decisionLines.netMinor}, ${estimateLines.netMinor})`.mapWith(
        estimateLines.netMinor,
      ),
      trail: sql<string>`coalesce(${decisionLines.trail}, ${estimateLines.trail})`.mapWith(
        estimateLines.trail,
      ),
      writtenUp: workOrderLines,
    })
    .from(estimateLines)
    .leftJoin(
      workOrderLines,
      and(eq(workOrderLines.tenantId, estimateLines.tenantId), eq(workOrderLines.id, estimateLines.lineId)),
    )
    .leftJoin(
      decisions,
      and(eq(decisions.tenantId, estimateLines.tenantId), eq(decisions.versionId, estimateLines.versionId)),
    )
    .leftJoin(
      decisionLines,
      and(
        eq(decisionLines.tenantId, decisions.tenantId),
        eq(decisionLines.decisionId, decisions.id),
        eq(decisionLines.lineId, estimateLines.lineId),
      ),
    )
    .where(
      and(
        eq(estimateLines.tenantId, tx.tenantId),
        inArray(estimateLines.versionId, [...versionIds]),
        or(isNull(decisionLines.answer), eq(decisionLines.answer, 'approved')),
      ),
    )
    .orderBy(asc(estimateLines.versionId), asc(estimateLines.position));
}
