import type { Day, LineId, VersionId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import {
  decisionLines,
  decisions,
  estimateLines,
  estimateVersions,
  vehicles,
  workOrderLines,
  workOrders,
} from '../schema/work-orders.ts';

/** A work order as whoever works on it needs it: which vehicle, for whom, by which rules, and what was approved. */
export interface WorkInHand {
  readonly workOrder: typeof workOrders.$inferSelect;
  readonly vehicle: typeof vehicles.$inferSelect;
  readonly account: typeof accounts.$inferSelect;
  /** Null until it is decided. */
  readonly approved: {
    readonly versionId: VersionId;
    readonly rateDay: Day;
    readonly totalMinor: bigint;
  } | null;
}

/** For staff only: an account's contacts have no right to some of these columns. */
export async function findWorkInHand(tx: TenantTransaction, id: WorkOrderId): Promise<WorkInHand | null> {
  const [row] = await tx
    .select({
      workOrder: workOrders,
      vehicle: vehicles,
      account: accounts,
      versionId: decisions.versionId,
      totalMinor: decisions.totalMinor,
      rateDay: estimateVersions.rateDay,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .leftJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .leftJoin(
      estimateVersions,
      and(eq(estimateVersions.tenantId, decisions.tenantId), eq(estimateVersions.id, decisions.versionId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  if (row === undefined) return null;
  const { versionId, totalMinor, rateDay, ...rest } = row;
  const approved =
    versionId === null || totalMinor === null || rateDay === null ? null : { versionId, totalMinor, rateDay };
  return { ...rest, approved };
}

/** The answer a line got, and the rate's code it was priced by. */
export interface LineAnswerRow {
  readonly lineId: LineId;
  readonly answer: 'approved' | 'declined';
  readonly code: string;
  readonly netMinor: bigint;
}

/** The answers that stand for a work order, in the order written; none while nothing is decided. For staff. */
export async function listLineAnswers(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly LineAnswerRow[]> {
  return tx
    .select({
      lineId: decisionLines.lineId,
      answer: decisionLines.answer,
      code: estimateLines.code,
      netMinor: decisionLines.netMinor,
    })
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
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, workOrderId)))
    .orderBy(asc(estimateLines.position));
}

/** Writes down how a line was really worked. Its size, repair and price stay as approved. */
export async function setLineWork(
  tx: TenantTransaction,
  lineId: LineId,
  work: { readonly methods: readonly string[]; readonly layers: number | null },
): Promise<void> {
  await tx
    .update(workOrderLines)
    .set({ methods: [...work.methods], layers: work.layers })
    .where(and(eq(workOrderLines.tenantId, tx.tenantId), eq(workOrderLines.id, lineId)));
}
