import type { PersonId, VisitId } from '@grainwright/domain';
import { and, desc, eq, isNull, ne } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { auditRecords } from '../schema/audit.ts';
import { workOrderLines, workOrders } from '../schema/work-orders.ts';
import type { WorkOrderLineRow } from './work-order-lines.ts';

/**
 * The line that this person wrote last on a visit, on whichever of its vehicles; null before the first. Who wrote it is
 * in the audit record. Lines of void work orders and withdrawn ones are none.
 */
export async function findLastLineOfVisit(
  tx: TenantTransaction,
  visitId: VisitId,
  personId: PersonId,
): Promise<{ readonly line: WorkOrderLineRow; readonly workOrderNumber: bigint } | null> {
  const [row] = await tx
    .select({ line: workOrderLines, workOrderNumber: workOrders.number })
    .from(workOrderLines)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, workOrderLines.tenantId), eq(workOrders.id, workOrderLines.workOrderId)),
    )
    .innerJoin(
      auditRecords,
      and(
        eq(auditRecords.tenantId, workOrderLines.tenantId),
        eq(auditRecords.subjectId, workOrderLines.id),
        eq(auditRecords.action, 'line_added'),
        eq(auditRecords.personId, personId),
      ),
    )
    .where(
      and(
        eq(workOrderLines.tenantId, tx.tenantId),
        eq(workOrders.visitId, visitId),
        ne(workOrders.state, 'void'),
        isNull(workOrderLines.withdrawnAt),
      ),
    )
    .orderBy(desc(auditRecords.at), desc(workOrders.number), desc(workOrderLines.position))
    .limit(1);
  return row ?? null;
}

/** As much of a line as tells how its damage is usually repaired here. */
export type UsualLine = Pick<WorkOrderLineRow, 'part' | 'material' | 'family' | 'methods'>;

const usualMax = 200;

/** The lines written last for a kind of damage, the newest first, of every account: what is usual for it here. */
export async function listUsualLines(tx: TenantTransaction, damage: string): Promise<readonly UsualLine[]> {
  return tx
    .select({
      part: workOrderLines.part,
      material: workOrderLines.material,
      family: workOrderLines.family,
      methods: workOrderLines.methods,
    })
    .from(workOrderLines)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, workOrderLines.tenantId), eq(workOrders.id, workOrderLines.workOrderId)),
    )
    .where(
      and(
        eq(workOrderLines.tenantId, tx.tenantId),
        eq(workOrderLines.damage, damage),
        ne(workOrders.state, 'void'),
        ne(workOrderLines.family, ''),
        isNull(workOrderLines.withdrawnAt),
      ),
    )
    .orderBy(desc(workOrders.number), desc(workOrderLines.position))
    .limit(usualMax);
}
