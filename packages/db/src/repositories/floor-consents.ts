import type { WorkOrderId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { floorConsents } from '../schema/work-orders.ts';

export type FloorConsentRow = typeof floorConsents.$inferSelect;

export interface NamedFloorConsent extends FloorConsentRow {
  readonly consentedByName: string;
}

/** What the owner of the business consented to on a work order, the first one first. */
export async function listFloorConsents(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly NamedFloorConsent[]> {
  const rows = await tx
    .select({ consent: floorConsents, consentedByName: people.name })
    .from(floorConsents)
    .innerJoin(
      people,
      and(eq(people.tenantId, floorConsents.tenantId), eq(people.id, floorConsents.consentedBy)),
    )
    .where(and(eq(floorConsents.tenantId, tx.tenantId), eq(floorConsents.workOrderId, workOrderId)))
    .orderBy(asc(floorConsents.consentedAt), asc(floorConsents.id));
  return rows.map(({ consent, consentedByName }) => ({ ...consent, consentedByName }));
}

export async function insertFloorConsent(
  tx: TenantTransaction,
  consent: Omit<FloorConsentRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(floorConsents).values({ tenantId: tx.tenantId, ...consent });
}
