import type { AccountId, EstimateLine, InvoiceId, VisitId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { invoiceWorkOrders } from '../schema/billing.ts';
import {
  decisionLines,
  decisions,
  estimateLines,
  estimateVersions,
  vehicles,
  workOrders,
} from '../schema/work-orders.ts';
import type { WorkOrderRow } from './work-order-path.ts';

/**
 * All work orders of the visits that these belong to, locked until the transaction ends, always in the same order:
 * what is charged once for a visit is decided by one at a time.
 */
export async function lockVisitsOf(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly WorkOrderRow[]> {
  const visitIds = tx
    .select({ visitId: workOrders.visitId })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, [...workOrderIds])));
  return tx
    .select()
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.visitId, visitIds)))
    .orderBy(asc(workOrders.id))
    .for('update');
}

/** These work orders, in the order of their ids. Locks nothing. */
export async function listWorkOrdersOf(
  tx: TenantTransaction,
  ids: readonly WorkOrderId[],
): Promise<readonly WorkOrderRow[]> {
  return tx
    .select()
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, [...ids])))
    .orderBy(asc(workOrders.id));
}

/** Whose the first of these work orders is, and its visit; null where none is there. Locks nothing. */
export async function findAccountAndVisit(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<{ readonly accountId: AccountId; readonly visitId: VisitId } | null> {
  const [row] = await tx
    .select({ accountId: workOrders.accountId, visitId: workOrders.visitId })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, [...workOrderIds])))
    .limit(1);
  return row ?? null;
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
  readonly visitId: VisitId;
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly ownerName: string;
  readonly ownerPhone: string;
  readonly vehicle: typeof vehicles.$inferSelect;
  readonly minimumMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
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
      visitId: workOrders.visitId,
      ownNumber: workOrders.ownNumber,
      roNumber: workOrders.roNumber,
      poNumber: workOrders.poNumber,
      ownerName: workOrders.ownerName,
      ownerPhone: workOrders.ownerPhone,
      vehicle: vehicles,
      minimumMinor: decisions.minimumMinor,
      afterHoursMinor: decisions.afterHoursMinor,
      rushMinor: decisions.rushMinor,
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

/** A vehicle that was not there, and what the account pays for the visit to it. */
export interface MissedVehicle {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly visitId: VisitId;
  readonly ownNumber: string;
  readonly vehicle: typeof vehicles.$inferSelect;
  readonly feeMinor: bigint;
}

/** Those of these work orders that are void with a fee, in the order of their numbers. */
export async function listMissedVehicles(
  tx: TenantTransaction,
  ids: readonly WorkOrderId[],
): Promise<readonly MissedVehicle[]> {
  if (ids.length === 0) return [];
  const rows = await tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      visitId: workOrders.visitId,
      ownNumber: workOrders.ownNumber,
      vehicle: vehicles,
      feeMinor: workOrders.noShowFeeMinor,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.id, [...ids]),
        eq(workOrders.state, 'void'),
      ),
    )
    .orderBy(asc(workOrders.number));
  return rows.flatMap(({ feeMinor, ...row }) => (feeMinor === null ? [] : { ...row, feeMinor }));
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
