import type { AccessLinkId, Instant, WorkOrderId, WorkOrderState } from '@grainwright/domain';
import { and, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { acceptances } from '../schema/evidence.ts';
import { accessLinks } from '../schema/links.ts';
import { workOrders } from '../schema/work-orders.ts';
import type { AcceptanceRow } from './work-order-evidence.ts';

/** What the vehicle owner's role may read of a work order that it changes. */
export interface OwnersWorkOrder {
  readonly id: WorkOrderId;
  readonly state: WorkOrderState;
}

/** As `lockWorkOrder`, in the vehicle owner's role. */
export async function lockOwnersWorkOrder(
  tx: TenantTransaction,
  id: WorkOrderId,
): Promise<OwnersWorkOrder | null> {
  const [row] = await tx
    .select({ id: workOrders.id, state: workOrders.state })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)))
    .for('update');
  return row ?? null;
}

/** The answer that was given by a link; null while there is none. */
export async function findAnswerByLink(
  tx: TenantTransaction,
  linkId: AccessLinkId,
): Promise<AcceptanceRow | null> {
  const [row] = await tx
    .select()
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.linkId, linkId)));
  return row ?? null;
}

/** Until when a link opens that this transaction's vehicle owner or contact holds; null where it is not theirs. */
export async function findOwnLink(
  tx: TenantTransaction,
  id: AccessLinkId,
): Promise<{ readonly expiresAt: Instant; readonly revokedAt: Instant | null } | null> {
  const [row] = await tx
    .select({ expiresAt: accessLinks.expiresAt, revokedAt: accessLinks.revokedAt })
    .from(accessLinks)
    .where(and(eq(accessLinks.tenantId, tx.tenantId), eq(accessLinks.id, id)));
  return row ?? null;
}
