import type { DecisionId, Instant, PersonId, VersionId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { decisions, estimateVersions } from '../schema/work-orders.ts';

/** A version of an estimate that was sent, and the answer to it. */
export interface SentVersion {
  readonly id: VersionId;
  readonly number: number;
  readonly sentAt: Instant;
  readonly sentBy: string | null;
  readonly currency: string;
  readonly totalMinor: bigint;
  /** Null: it was never answered. */
  readonly decisionId: DecisionId | null;
  readonly decidedAt: Instant | null;
  readonly decidedBy: string | null;
  readonly given: (typeof decisions.$inferSelect)['given'] | null;
}

const versionsMax = 200;

/** Every version of a work order that was sent, the first one first. */
export function listSentVersions(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly SentVersion[]> {
  const deciders = alias(people, 'deciders');
  return tx
    .select({
      id: estimateVersions.id,
      number: estimateVersions.version,
      sentAt: estimateVersions.madeAt,
      sentBy: people.name,
      currency: estimateVersions.currency,
      totalMinor: estimateVersions.totalMinor,
      decisionId: decisions.id,
      decidedAt: decisions.decidedAt,
      decidedBy: deciders.name,
      given: decisions.given,
    })
    .from(estimateVersions)
    .leftJoin(
      people,
      and(eq(people.tenantId, estimateVersions.tenantId), eq(people.id, estimateVersions.madeBy)),
    )
    .leftJoin(
      decisions,
      and(eq(decisions.tenantId, estimateVersions.tenantId), eq(decisions.versionId, estimateVersions.id)),
    )
    .leftJoin(deciders, and(eq(deciders.tenantId, decisions.tenantId), eq(deciders.id, decisions.decidedBy)))
    .where(and(eq(estimateVersions.tenantId, tx.tenantId), eq(estimateVersions.workOrderId, workOrderId)))
    .orderBy(asc(estimateVersions.version))
    .limit(versionsMax);
}

/** Somebody's name, in whatever role; null where it is not theirs to know. */
export async function findPersonName(tx: TenantTransaction, id: PersonId): Promise<string | null> {
  const [row] = await tx
    .select({ name: people.name })
    .from(people)
    .where(and(eq(people.tenantId, tx.tenantId), eq(people.id, id)));
  return row?.name ?? null;
}
