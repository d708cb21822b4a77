import type { WorkOrderId } from '@grainwright/domain';
import { and, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { seamReleases } from '../schema/work-orders.ts';

export type SeamRelease = typeof seamReleases.$inferSelect;

/** The seams of a work order that the owner of the business released. */
export async function listSeamReleases(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly SeamRelease[]> {
  return tx
    .select()
    .from(seamReleases)
    .where(and(eq(seamReleases.tenantId, tx.tenantId), eq(seamReleases.workOrderId, workOrderId)));
}

export async function insertSeamRelease(
  tx: TenantTransaction,
  release: Omit<SeamRelease, 'tenantId'>,
): Promise<void> {
  await tx.insert(seamReleases).values({ tenantId: tx.tenantId, ...release });
}
