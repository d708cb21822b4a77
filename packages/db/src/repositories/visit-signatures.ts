import type { VisitId, VisitSignatureId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, sites } from '../schema/accounts.ts';
import { acceptances, visitSignatures } from '../schema/evidence.ts';
import { visits, workOrders } from '../schema/work-orders.ts';
import type { AcceptanceRow } from './work-order-evidence.ts';

export type VisitSignatureRow = typeof visitSignatures.$inferSelect;

/** False when the id is taken. */
export async function insertVisitSignature(
  tx: TenantTransaction,
  row: Omit<VisitSignatureRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(visitSignatures)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ id: visitSignatures.id });
  return rows.length === 1;
}

export interface SignedVisit {
  readonly signature: VisitSignatureRow;
  /** One for each vehicle that was signed for. */
  readonly acceptances: readonly AcceptanceRow[];
}

export async function findVisitSignature(
  tx: TenantTransaction,
  id: VisitSignatureId,
): Promise<SignedVisit | null> {
  const [signature] = await tx
    .select()
    .from(visitSignatures)
    .where(and(eq(visitSignatures.tenantId, tx.tenantId), eq(visitSignatures.id, id)));
  if (signature === undefined) return null;
  const signed = await tx
    .select()
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.visitSignatureId, id)))
    .orderBy(asc(acceptances.workOrderId))
    .limit(300);
  return { signature, acceptances: signed };
}

/** A visit with the account it is to and the place it is at. Staff only. */
export async function findAttendedVisit(tx: TenantTransaction, id: VisitId) {
  const [row] = await tx
    .select({ visit: visits, account: accounts, siteName: sites.name })
    .from(visits)
    .innerJoin(accounts, and(eq(accounts.tenantId, visits.tenantId), eq(accounts.id, visits.accountId)))
    .innerJoin(sites, and(eq(sites.tenantId, visits.tenantId), eq(sites.id, visits.siteId)))
    .where(and(eq(visits.tenantId, tx.tenantId), eq(visits.id, id)));
  return row ?? null;
}

/** The work orders of a visit that wait for their acceptance, in the order written up. */
export async function listDoneOfVisit(
  tx: TenantTransaction,
  visitId: VisitId,
): Promise<readonly WorkOrderId[]> {
  const rows = await tx
    .select({ id: workOrders.id })
    .from(workOrders)
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.visitId, visitId),
        eq(workOrders.state, 'done'),
      ),
    )
    .orderBy(asc(workOrders.number))
    .limit(100);
  return rows.map(({ id }) => id);
}
