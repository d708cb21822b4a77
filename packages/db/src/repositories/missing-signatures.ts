import type { MissingSignatureId, WorkOrderId } from '@grainwright/domain';
import { and, desc, eq, inArray } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { acceptanceReleases, missingSignatures } from '../schema/evidence.ts';

export type MissingSignatureRow = typeof missingSignatures.$inferSelect;
export type AcceptanceReleaseRow = typeof acceptanceReleases.$inferSelect;

/** False when the id is taken. */
export async function insertMissingSignature(
  tx: TenantTransaction,
  row: Omit<MissingSignatureRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(missingSignatures)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: missingSignatures.id });
  return rows.length === 1;
}

export async function findMissingSignature(
  tx: TenantTransaction,
  id: MissingSignatureId,
): Promise<MissingSignatureRow | null> {
  const [row] = await tx
    .select()
    .from(missingSignatures)
    .where(and(eq(missingSignatures.tenantId, tx.tenantId), eq(missingSignatures.id, id)));
  return row ?? null;
}

export async function insertAcceptanceRelease(
  tx: TenantTransaction,
  row: Omit<AcceptanceReleaseRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(acceptanceReleases).values({ tenantId: tx.tenantId, ...row });
}

export type MissingSignature = Awaited<ReturnType<typeof listMissingSignatures>>[number];

/** Every time nobody signed for these work orders, the newest first, with who let the work go without, if anybody did. */
export async function listMissingSignatures(tx: TenantTransaction, workOrderIds: readonly WorkOrderId[]) {
  if (workOrderIds.length === 0) return [];
  const releasers = alias(people, 'releasers');
  return tx
    .select({
      id: missingSignatures.id,
      workOrderId: missingSignatures.workOrderId,
      why: missingSignatures.why,
      reason: missingSignatures.reason,
      witness: missingSignatures.witness,
      recordedBy: people.name,
      recordedAt: missingSignatures.recordedAt,
      releaseReason: acceptanceReleases.reason,
      releasedBy: releasers.name,
      releasedAt: acceptanceReleases.releasedAt,
    })
    .from(missingSignatures)
    .innerJoin(
      people,
      and(eq(people.tenantId, missingSignatures.tenantId), eq(people.id, missingSignatures.recordedBy)),
    )
    .leftJoin(
      acceptanceReleases,
      and(
        eq(acceptanceReleases.tenantId, missingSignatures.tenantId),
        eq(acceptanceReleases.workOrderId, missingSignatures.workOrderId),
        eq(acceptanceReleases.missingSignatureId, missingSignatures.id),
      ),
    )
    .leftJoin(
      releasers,
      and(
        eq(releasers.tenantId, acceptanceReleases.tenantId),
        eq(releasers.id, acceptanceReleases.releasedBy),
      ),
    )
    .where(
      and(
        eq(missingSignatures.tenantId, tx.tenantId),
        inArray(missingSignatures.workOrderId, [...workOrderIds]),
      ),
    )
    .orderBy(desc(missingSignatures.recordedAt), desc(missingSignatures.id))
    .limit(1_000);
}
