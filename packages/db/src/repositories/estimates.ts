import type { Day, DecisionId, VersionId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, getTableColumns, max } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { approvalDelegations } from '../schema/delegations.ts';
import {
  decisionLines,
  decisionSignatures,
  decisions,
  estimateLines,
  estimateVersions,
} from '../schema/work-orders.ts';

export type EstimateVersionRow = typeof estimateVersions.$inferSelect;
export type EstimateLineRow = typeof estimateLines.$inferSelect;

/** A line as everybody may read it: whether and why it was priced by hand is the business's own. */
export type ShownEstimateLine = Omit<EstimateLineRow, 'byHand'>;

export interface StoredEstimate {
  readonly version: EstimateVersionRow;
  /** In the order written. */
  readonly lines: readonly ShownEstimateLine[];
}

const { byHand: _byHand, ...shownColumns } = getTableColumns(estimateLines);

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
    .select(shownColumns)
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
  /** In whose place, and until when they answered for them; null for an answer of one’s own. */
  readonly answeredFor: { readonly name: string; readonly through: Day } | null;
  readonly lines: readonly (typeof decisionLines.$inferSelect)[];
  /** Of whoever answered beside the vehicle; null without. */
  readonly signature: DecisionSignatureRow | null;
}

export type DecisionSignatureRow = typeof decisionSignatures.$inferSelect;

/** An answer with the answer to each line; null when there is none such. */
export async function findDecision(tx: TenantTransaction, id: DecisionId): Promise<StoredDecision | null> {
  const [row] = await tx
    .select({
      decision: decisions,
      decidedByName: people.name,
      away: { name: away.name, through: approvalDelegations.validTo },
    })
    .from(decisions)
    .leftJoin(people, and(eq(people.tenantId, decisions.tenantId), eq(people.id, decisions.decidedBy)))
    .leftJoin(
      approvalDelegations,
      and(
        eq(approvalDelegations.tenantId, decisions.tenantId),
        eq(approvalDelegations.id, decisions.delegationId),
      ),
    )
    .leftJoin(
      away,
      and(eq(away.tenantId, approvalDelegations.tenantId), eq(away.id, approvalDelegations.fromPerson)),
    )
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
  const { away: forWhom, ...found } = row;
  const { name, through } = forWhom ?? {};
  const answeredFor = name && through ? { name, through } : null;
  return { ...found, answeredFor, lines, signature: signature ?? null };
}

const away = alias(people, 'away');
