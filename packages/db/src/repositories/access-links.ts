import type { AccessLinkId, AccountId, Instant, PersonId, WorkOrderId } from '@grainwright/domain';
import { and, desc, eq, inArray, isNull, or } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { approvalAsks } from '../schema/approvals.ts';
import { acceptanceCopies } from '../schema/evidence.ts';
import { accessLinks } from '../schema/links.ts';

export type AccessLinkRow = typeof accessLinks.$inferSelect;
export type NewAccessLink = Omit<AccessLinkRow, 'tenantId' | 'revokedAt'>;

/** False when the id or the secret is taken. */
export async function insertAccessLink(tx: TenantTransaction, link: NewAccessLink): Promise<boolean> {
  const rows = await tx
    .insert(accessLinks)
    .values({ ...link, tenantId: tx.tenantId })
    .onConflictDoNothing()
    .returning({ id: accessLinks.id });
  return rows.length === 1;
}

/** What a secret opens. */
export type HeldLink = Pick<
  AccessLinkRow,
  'id' | 'purpose' | 'accountId' | 'personId' | 'workOrderId' | 'expiresAt' | 'revokedAt'
>;

/** The one link that a transaction in the role `link` may see; null where its secret opens nothing. */
export async function findHeldLink(tx: TenantTransaction, secretHash: string): Promise<HeldLink | null> {
  const { id, purpose, accountId, personId, workOrderId, expiresAt, revokedAt } = accessLinks;
  const [row] = await tx
    .select({ id, purpose, accountId, personId, workOrderId, expiresAt, revokedAt })
    .from(accessLinks)
    .where(and(eq(accessLinks.tenantId, tx.tenantId), eq(accessLinks.secretHash, secretHash)));
  return row ?? null;
}

/** The links of these ids, for the mail that carries them. */
export function findAccessLinks(
  tx: TenantTransaction,
  ids: readonly AccessLinkId[],
): Promise<readonly AccessLinkRow[]> {
  return tx
    .select()
    .from(accessLinks)
    .where(and(eq(accessLinks.tenantId, tx.tenantId), inArray(accessLinks.id, [...ids])));
}

const listedMax = 100;

/** Where it begins there, or somebody was asked about it by this link, or has a copy, among others of its visit. */
function aboutWorkOrder(tx: TenantTransaction, workOrderId: WorkOrderId) {
  const asked = tx
    .select({ linkId: approvalAsks.linkId })
    .from(approvalAsks)
    .where(and(eq(approvalAsks.tenantId, tx.tenantId), eq(approvalAsks.workOrderId, workOrderId)));
  const copied = tx
    .select({ linkId: acceptanceCopies.linkId })
    .from(acceptanceCopies)
    .where(and(eq(acceptanceCopies.tenantId, tx.tenantId), eq(acceptanceCopies.workOrderId, workOrderId)));
  return or(
    eq(accessLinks.workOrderId, workOrderId),
    inArray(accessLinks.id, asked),
    inArray(accessLinks.id, copied),
  );
}

/** Whether a link is about a work order. */
export async function isLinkAbout(
  tx: TenantTransaction,
  id: AccessLinkId,
  workOrderId: WorkOrderId,
): Promise<boolean> {
  const rows = await tx
    .select({ id: accessLinks.id })
    .from(accessLinks)
    .where(
      and(eq(accessLinks.tenantId, tx.tenantId), eq(accessLinks.id, id), aboutWorkOrder(tx, workOrderId)),
    );
  return rows.length === 1;
}

/** The links about a work order, the latest first. */
export function listAccessLinks(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly AccessLinkRow[]> {
  return tx
    .select()
    .from(accessLinks)
    .where(and(eq(accessLinks.tenantId, tx.tenantId), aboutWorkOrder(tx, workOrderId)))
    .orderBy(desc(accessLinks.madeAt), desc(accessLinks.id))
    .limit(listedMax);
}

/** Takes links back, now; those taken back before keep their moment. How many it were. */
export async function revokeAccessLinks(
  tx: TenantTransaction,
  which:
    | { readonly id: AccessLinkId }
    | { readonly accountId: AccountId; readonly personId: PersonId }
    | { readonly workOrderId: WorkOrderId; readonly purpose: AccessLinkRow['purpose'] },
  now: Instant,
): Promise<number> {
  const rows = await tx
    .update(accessLinks)
    .set({ revokedAt: now })
    .where(
      and(
        eq(accessLinks.tenantId, tx.tenantId),
        isNull(accessLinks.revokedAt),
        'id' in which ? eq(accessLinks.id, which.id) : undefined,
        'personId' in which ? eq(accessLinks.accountId, which.accountId) : undefined,
        'personId' in which ? eq(accessLinks.personId, which.personId) : undefined,
        'purpose' in which ? eq(accessLinks.workOrderId, which.workOrderId) : undefined,
        'purpose' in which ? eq(accessLinks.purpose, which.purpose) : undefined,
      ),
    )
    .returning({ id: accessLinks.id });
  return rows.length;
}
