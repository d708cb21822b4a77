import type { LineId, PhotoPurpose, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray, isNull } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { keyTests, photos } from '../schema/evidence.ts';
import { decisionLines, workOrderLines, workOrders } from '../schema/work-orders.ts';
import type { WorkOrderLineRow } from './work-order-lines.ts';

/** What of some work orders decides what is to do next on them; the caller bounds them. */
export interface TaskRows {
  readonly lines: readonly WorkOrderLineRow[];
  readonly answers: readonly { readonly lineId: LineId; readonly answer: 'approved' | 'declined' }[];
  readonly photos: readonly {
    readonly workOrderId: WorkOrderId;
    readonly lineId: LineId | null;
    readonly purpose: PhotoPurpose;
  }[];
  readonly testedKeys: readonly LineId[];
}

/** Lines without those withdrawn, in the order written; the answers that stand. For staff. */
export async function findTaskRows(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<TaskRows> {
  if (workOrderIds.length === 0) return { lines: [], answers: [], photos: [], testedKeys: [] };
  const ids = [...workOrderIds];
  const lines = await tx
    .select()
    .from(workOrderLines)
    .where(
      and(
        eq(workOrderLines.tenantId, tx.tenantId),
        inArray(workOrderLines.workOrderId, ids),
        isNull(workOrderLines.withdrawnAt),
      ),
    )
    .orderBy(asc(workOrderLines.workOrderId), asc(workOrderLines.position));
  const answers = await tx
    .select({ lineId: decisionLines.lineId, answer: decisionLines.answer })
    .from(workOrders)
    .innerJoin(
      decisionLines,
      and(
        eq(decisionLines.tenantId, workOrders.tenantId),
        eq(decisionLines.decisionId, workOrders.decisionId),
      ),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), inArray(workOrders.id, ids)));
  const taken = await tx
    .selectDistinct({ workOrderId: photos.workOrderId, lineId: photos.lineId, purpose: photos.purpose })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), inArray(photos.workOrderId, ids)));
  const tested = await tx
    .selectDistinct({ lineId: keyTests.lineId })
    .from(keyTests)
    .where(and(eq(keyTests.tenantId, tx.tenantId), inArray(keyTests.workOrderId, ids)));
  return { lines, answers, photos: taken, testedKeys: tested.map(({ lineId }) => lineId) };
}
