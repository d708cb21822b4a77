import type { AcceptanceCopyId, AcceptanceId, AccessLinkId, Instant, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { acceptanceCopies, acceptances } from '../schema/evidence.ts';
import { accessLinks } from '../schema/links.ts';
import { outgoingMails } from '../schema/statements.ts';
import type { AcceptanceRow } from './work-order-evidence.ts';

export type AcceptanceCopyRow = typeof acceptanceCopies.$inferSelect;

/** Written once for each answer that it is a copy of; what is there already stays. */
export async function insertAcceptanceCopies(
  tx: TenantTransaction,
  copies: readonly Omit<AcceptanceCopyRow, 'tenantId'>[],
): Promise<void> {
  await tx
    .insert(acceptanceCopies)
    .values(copies.map((copy) => ({ tenantId: tx.tenantId, ...copy })))
    .onConflictDoNothing();
}

/** A copy with how it stands: whether its mail went out, and until when it can be read again. */
export interface GivenCopy
  extends Pick<
    AcceptanceCopyRow,
    'id' | 'acceptanceId' | 'workOrderId' | 'channel' | 'address' | 'linkId' | 'givenBy' | 'givenAt'
  > {
  /** Null for a copy that is no mail. */
  readonly mailState: (typeof outgoingMails.$inferSelect)['state'] | null;
  readonly sentAt: Instant | null;
  /** Null where none was wanted. */
  readonly expiresAt: Instant | null;
  readonly revokedAt: Instant | null;
}

/** More than anybody sends of one answer. */
const copiesMax = 200;

/** The copies of these answers, the first one first. */
export function listAcceptanceCopies(
  tx: TenantTransaction,
  acceptanceIds: readonly AcceptanceId[],
): Promise<readonly GivenCopy[]> {
  return given(tx)
    .where(
      and(
        eq(acceptanceCopies.tenantId, tx.tenantId),
        inArray(acceptanceCopies.acceptanceId, [...acceptanceIds]),
      ),
    )
    .orderBy(asc(acceptanceCopies.givenAt), asc(acceptanceCopies.id), asc(acceptanceCopies.workOrderId))
    .limit(copiesMax);
}

/** What was given under an id: a row for each answer; empty where the id is new. */
export function findAcceptanceCopy(
  tx: TenantTransaction,
  id: AcceptanceCopyId,
): Promise<readonly GivenCopy[]> {
  return given(tx)
    .where(and(eq(acceptanceCopies.tenantId, tx.tenantId), eq(acceptanceCopies.id, id)))
    .orderBy(asc(acceptanceCopies.workOrderId))
    .limit(copiesMax);
}

function given(tx: TenantTransaction) {
  return tx
    .select({
      id: acceptanceCopies.id,
      acceptanceId: acceptanceCopies.acceptanceId,
      workOrderId: acceptanceCopies.workOrderId,
      channel: acceptanceCopies.channel,
      address: acceptanceCopies.address,
      linkId: acceptanceCopies.linkId,
      givenBy: acceptanceCopies.givenBy,
      givenAt: acceptanceCopies.givenAt,
      mailState: outgoingMails.state,
      sentAt: outgoingMails.settledAt,
      expiresAt: accessLinks.expiresAt,
      revokedAt: accessLinks.revokedAt,
    })
    .from(acceptanceCopies)
    .leftJoin(
      outgoingMails,
      and(
        eq(outgoingMails.tenantId, acceptanceCopies.tenantId),
        eq(outgoingMails.id, acceptanceCopies.mailId),
      ),
    )
    .leftJoin(
      accessLinks,
      and(eq(accessLinks.tenantId, acceptanceCopies.tenantId), eq(accessLinks.id, acceptanceCopies.linkId)),
    );
}

/** The work orders whose answers the link of a copy opens. */
export async function listWorkOfCopy(
  tx: TenantTransaction,
  linkId: AccessLinkId,
): Promise<readonly { readonly workOrderId: WorkOrderId; readonly acceptanceId: AcceptanceId }[]> {
  return tx
    .select({ workOrderId: acceptanceCopies.workOrderId, acceptanceId: acceptanceCopies.acceptanceId })
    .from(acceptanceCopies)
    .where(and(eq(acceptanceCopies.tenantId, tx.tenantId), eq(acceptanceCopies.linkId, linkId)))
    .orderBy(asc(acceptanceCopies.workOrderId))
    .limit(copiesMax);
}

/** The answers to a work order with everything that is on record of them, the first one first. Staff only. */
export function listAcceptanceRows(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly AcceptanceRow[]> {
  return tx
    .select()
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.workOrderId, workOrderId)))
    .orderBy(asc(acceptances.acceptedAt), asc(acceptances.id))
    .limit(copiesMax);
}
