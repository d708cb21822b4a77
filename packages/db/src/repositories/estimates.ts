import type { DecisionId, VersionId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, max } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import {
  decisionLines,
  decisionSignatures,
  decisions,
  estimateLines,
  estimateVersions,
} from '../schema/work-orders.ts';

export type EstimateVersionRow = typeof estimateVersions.$inferSelect;
export type EstimateLineRow = typeof estimateLines.$inferSelect;

export interface StoredEstimate {
  readonly version: EstimateVersionRow;
  /** In the order written. */
  readonly lines: readonly EstimateLineRow[];
}

/** Stores a version with its lines for good. False when the id or the number is taken. */
export async function insertEstimate(
  tx: TenantTransaction,
  version: Omit<EstimateVersionRow, 'tenantId'>,
  lines: readonly Omit<EstimateLineRow, 'tenantId' | 'versionId'>[],
): Promise<boolean> {
  const rows = await tx
    .insert(estimateVersions)
    .values({ tenantId: tx.tenantId, ...version })
    .onConflictDoNothing()
    .returning({ id: estimateVersions.id });
  if (rows.length === 0) return false;
  await tx
    .insert(estimateLines)
    .values(lines.map((line) => ({ tenantId: tx.tenantId, versionId: version.id, ...line })));
  return true;
}

/** A version as it was sent; null when there is none such. */
export async function findEstimate(tx: TenantTransaction, id: VersionId): Promise<StoredEstimate | null> {
  const [version] = await tx
    .select()
    .from(estimateVersions)
    .where(and(eq(estimateVersions.tenantId, tx.tenantId), eq(estimateVersions.id, id)));
  if (version === undefined) return null;
  const lines = await tx
    .select()
    .from(estimateLines)
    .where(and(eq(estimateLines.tenantId, tx.tenantId), eq(estimateLines.versionId, id)))
    .orderBy(asc(estimateLines.position));
  return { version, lines };
}

/** The number of the newest version; zero before the first. */
export async function newestVersionNumber(tx: TenantTransaction, workOrderId: WorkOrderId): Promise<number> {
  const [row] = await tx
    .select({ newest: max(estimateVersions.version) })
    .from(estimateVersions)
    .where(and(eq(estimateVersions.tenantId, tx.tenantId), eq(estimateVersions.workOrderId, workOrderId)));
  return row?.newest ?? 0;
}

export interface StoredDecision {
  readonly decision: typeof decisions.$inferSelect;
  /** Null where a standing approval answered. */
  readonly decidedByName: string | null;
  readonly lines: readonly (typeof decisionLines.$inferSelect)[];
  /** Of whoever answered beside the vehicle; null without. */
  readonly signature: DecisionSignatureRow | null;
}

export type DecisionSignatureRow = typeof decisionSignatures.$inferSelect;

/** An answer with the answer to each line; null when there is none such. */
export async function findDecision(tx: TenantTransaction, id: DecisionId): Promise<StoredDecision | null> {
  const [row] = await tx
    .select({ decision: decisions, decidedByName: people.name })
    .from(decisions)
    .leftJoin(people, and(eq(people.tenantId, decisions.tenantId), eq(people.id, decisions.decidedBy)))
    .where(and(eq(decisions.tenantId, tx.tenantId), eq(decisions.id, id)));
  if (row === undefined) return null;
  const lines = await tx
    .select()
    .from(decisionLines)
    .where(and(eq(decisionLines.tenantId, tx.tenantId), eq(decisionLines.decisionId, id)))
    .orderBy(asc(decisionLines.lineId));
  const [signature] = await tx
    .select()
    .from(decisionSignatures)
    .where(and(eq(decisionSignatures.tenantId, tx.tenantId), eq(decisionSignatures.decisionId, id)));
  return { ...row, lines, signature: signature ?? null };
}
