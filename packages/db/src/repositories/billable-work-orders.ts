import type { AccountId, Day, EstimateLine, InvoiceId, VisitId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, sites } from '../schema/accounts.ts';
import { invoiceWorkOrders } from '../schema/billing.ts';
import {
  decisionLines,
  decisions,
  estimateLines,
  estimateVersions,
  vehicles,
  visits,
  workOrders,
} from '../schema/work-orders.ts';
import type { WorkOrderRow } from './work-order-path.ts';

/**
 * All work orders of the visit that this one belongs to, locked until the transaction ends, always in the same
 * order: what is charged once for a visit is decided by one at a time.
 */
export async function lockVisitOf(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly WorkOrderRow[]> {
  const visitId = tx
    .select({ visitId: workOrders.visitId })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, workOrderId)));
  return tx
    .select()
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.visitId, sql`(${visitId})`)))
    .orderBy(asc(workOrders.id))
    .for('update');
}

/** The work orders on these invoices, locked in the order of their ids. */
export async function lockWorkOrdersOfInvoices(
  tx: TenantTransaction,
  invoiceIds: readonly InvoiceId[],
): Promise<readonly WorkOrderRow[]> {
  if (invoiceIds.length === 0) return [];
  const onThem = tx
    .select({ id: invoiceWorkOrders.workOrderId })
    .from(invoiceWorkOrders)
    .where(
      and(eq(invoiceWorkOrders.tenantId, tx.tenantId), inArray(invoiceWorkOrders.invoiceId, [...invoiceIds])),
    );
  return tx
    .select()
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, onThem)))
    .orderBy(asc(workOrders.id))
    .for('update');
}

/** A work order with its vehicle and what was decided on it, as far as an invoice needs it. */
export interface BillableWorkOrder {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly vehicle: typeof vehicles.$inferSelect;
  readonly minimumMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rules: (typeof estimateVersions.$inferSelect)['rules'];
}

/** In the order of their numbers. One that nobody has decided on is left out. */
export async function listBillable(
  tx: TenantTransaction,
  ids: readonly WorkOrderId[],
): Promise<readonly BillableWorkOrder[]> {
  return tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      ownNumber: workOrders.ownNumber,
      roNumber: workOrders.roNumber,
      poNumber: workOrders.poNumber,
      vehicle: vehicles,
      minimumMinor: decisions.minimumMinor,
      afterHoursMinor: decisions.afterHoursMinor,
      rules: estimateVersions.rules,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .innerJoin(
      estimateVersions,
      and(eq(estimateVersions.tenantId, decisions.tenantId), eq(estimateVersions.id, decisions.versionId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, [...ids])))
    .orderBy(asc(workOrders.number));
}

/** An approved line at the price frozen in the decision. */
export interface ApprovedLine {
  readonly workOrderId: WorkOrderId;
  readonly description: string;
  readonly line: EstimateLine;
}

/** The approved lines of the decisions that these work orders stand on, in the order written. */
export async function listApprovedLines(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly ApprovedLine[]> {
  const rows = await tx
    .select({ workOrderId: decisions.workOrderId, written: estimateLines, decided: decisionLines })
    .from(workOrders)
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .innerJoin(
      decisionLines,
      and(eq(decisionLines.tenantId, decisions.tenantId), eq(decisionLines.decisionId, decisions.id)),
    )
    .innerJoin(
      estimateLines,
      and(
        eq(estimateLines.tenantId, decisions.tenantId),
        eq(estimateLines.versionId, decisions.versionId),
        eq(estimateLines.lineId, decisionLines.lineId),
      ),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.id, [...workOrderIds]),
        eq(decisionLines.answer, 'approved'),
      ),
    )
    .orderBy(asc(estimateLines.position));
  return rows.map(({ workOrderId, written, decided }) => {
    const { tenantId: _tenant, versionId: _version, position: _position, description, ...line } = written;
    const { furtherPercent, netMinor, laborMinor, materialsMinor, trail } = decided;
    return {
      workOrderId,
      description,
      line: { ...line, furtherPercent, netMinor, laborMinor, materialsMinor, trail },
    };
  });
}

/** Accepted work that no invoice holds yet. */
export interface AcceptedWorkOrder {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly siteName: string;
  readonly visitId: VisitId;
  readonly day: Day;
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly requiresRo: boolean;
  readonly requiresPo: boolean;
  readonly ownNumberKind: (typeof accounts.$inferSelect)['ownNumberKind'];
  readonly ownNumberRequired: boolean;
  readonly vehicle: typeof vehicles.$inferSelect;
  readonly repairsMinor: bigint;
}

/** By visit, the longest waiting first. */
export async function listAccepted(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly AcceptedWorkOrder[]> {
  return tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      accountId: workOrders.accountId,
      accountName: accounts.name,
      siteName: sites.name,
      visitId: workOrders.visitId,
      day: visits.day,
      ownNumber: workOrders.ownNumber,
      roNumber: workOrders.roNumber,
      poNumber: workOrders.poNumber,
      requiresRo: accounts.requiresRo,
      requiresPo: accounts.requiresPo,
      ownNumberKind: accounts.ownNumberKind,
      ownNumberRequired: accounts.ownNumberRequired,
      vehicle: vehicles,
      repairsMinor: decisions.repairsMinor,
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(sites, and(eq(sites.tenantId, visits.tenantId), eq(sites.id, visits.siteId)))
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.state, 'accepted')))
    .orderBy(asc(visits.day), asc(visits.id), asc(workOrders.number))
    .limit(limit);
}
