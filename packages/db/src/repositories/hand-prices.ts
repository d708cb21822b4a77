import type { InvoiceId, LineId, VersionId, WorkOrderId } from '@grainwright/domain';
import { and, eq, isNotNull, isNull, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { invoiceLines } from '../schema/billing.ts';
import { decisions, estimateLines, workOrderLines, workOrders } from '../schema/work-orders.ts';

/** A price that somebody made by hand. For the staff: accounts may not read it. */
export interface HandPrice {
  readonly lineId: LineId;
  readonly reason: string;
  /** Who made it, by name; null where that is not known. */
  readonly by: string | null;
}

/** Of a work order while it is written up. */
export async function listWrittenHandPrices(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly HandPrice[]> {
  return tx
    .select({
      lineId: workOrderLines.id,
      reason: sql<string>`coalesce(${workOrderLines.byHandReason}, '')`,
      by: people.name,
    })
    .from(workOrderLines)
    .leftJoin(
      people,
      and(eq(people.tenantId, workOrderLines.tenantId), eq(people.id, workOrderLines.byHandBy)),
    )
    .where(
      and(
        eq(workOrderLines.tenantId, tx.tenantId),
        eq(workOrderLines.workOrderId, workOrderId),
        isNull(workOrderLines.withdrawnAt),
        isNotNull(workOrderLines.byHandMinor),
      ),
    );
}

/** Of a version of an estimate, as it was sent. */
export async function listHandPricesOfVersion(
  tx: TenantTransaction,
  versionId: VersionId,
): Promise<readonly HandPrice[]> {
  return selectSent(tx).where(ofTenant(tx, eq(estimateLines.versionId, versionId)));
}

/** Of the lines that an invoice bills. */
export async function listHandPricesOfInvoice(
  tx: TenantTransaction,
  invoiceId: InvoiceId,
): Promise<readonly HandPrice[]> {
  return selectSent(tx)
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, estimateLines.tenantId), eq(decisions.versionId, estimateLines.versionId)),
    )
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, decisions.tenantId), eq(workOrders.decisionId, decisions.id)),
    )
    .innerJoin(
      invoiceLines,
      and(
        eq(invoiceLines.tenantId, estimateLines.tenantId),
        eq(invoiceLines.workOrderId, workOrders.id),
        eq(invoiceLines.lineId, estimateLines.lineId),
      ),
    )
    .where(ofTenant(tx, eq(invoiceLines.invoiceId, invoiceId)));
}

/** A line that was changed after it was sent may have somebody else’s price by now. */
function selectSent(tx: TenantTransaction) {
  return tx
    .select({
      lineId: estimateLines.lineId,
      reason: sql<string>`coalesce(${estimateLines.byHand}, '')`,
      by: people.name,
    })
    .from(estimateLines)
    .leftJoin(
      workOrderLines,
      and(
        eq(workOrderLines.tenantId, estimateLines.tenantId),
        eq(workOrderLines.id, estimateLines.lineId),
        eq(workOrderLines.byHandReason, estimateLines.byHand),
      ),
    )
    .leftJoin(
      people,
      and(eq(people.tenantId, workOrderLines.tenantId), eq(people.id, workOrderLines.byHandBy)),
    );
}

function ofTenant(tx: TenantTransaction, where: SQL): SQL | undefined {
  return and(eq(estimateLines.tenantId, tx.tenantId), isNotNull(estimateLines.byHand), where);
}
