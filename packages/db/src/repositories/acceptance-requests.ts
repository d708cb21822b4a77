import type {
  AcceptanceId,
  AcceptanceOutcome,
  AccessLinkId,
  Instant,
  PersonId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, isNull, lte } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { acceptances } from '../schema/evidence.ts';
import { acceptanceRequests, accessLinks } from '../schema/links.ts';
import { workOrders } from '../schema/work-orders.ts';

export type AcceptanceRequestRow = typeof acceptanceRequests.$inferSelect;

export async function insertAcceptanceRequest(
  tx: TenantTransaction,
  request: Omit<AcceptanceRequestRow, 'tenantId' | 'unansweredAt'>,
): Promise<void> {
  await tx.insert(acceptanceRequests).values({ tenantId: tx.tenantId, ...request });
}

/** A link to accept finished work: for whom, how long, and what became of it. */
export interface AcceptanceRequest {
  readonly linkId: AccessLinkId;
  readonly workOrderId: WorkOrderId;
  readonly ownerName: string;
  readonly phone: string;
  readonly email: string;
  readonly madeBy: PersonId;
  readonly madeByName: string | null;
  readonly madeAt: Instant;
  readonly expiresAt: Instant;
  readonly revokedAt: Instant | null;
  readonly unansweredAt: Instant | null;
  /** Null while nobody answered by it. */
  readonly acceptanceId: AcceptanceId | null;
  readonly outcome: AcceptanceOutcome | null;
}

/** More than anybody ever sends about one work order. */
const requestsMax = 50;

/** The links to accept a work order, the latest first. */
export function listAcceptanceRequests(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly AcceptanceRequest[]> {
  return requests(tx)
    .where(and(eq(acceptanceRequests.tenantId, tx.tenantId), eq(acceptanceRequests.workOrderId, workOrderId)))
    .orderBy(desc(accessLinks.madeAt), desc(accessLinks.id))
    .limit(requestsMax);
}

export async function findAcceptanceRequest(
  tx: TenantTransaction,
  linkId: AccessLinkId,
): Promise<AcceptanceRequest | null> {
  const [row] = await requests(tx).where(
    and(eq(acceptanceRequests.tenantId, tx.tenantId), eq(acceptanceRequests.linkId, linkId)),
  );
  return row ?? null;
}

/** Those that opened until before now, that nobody answered or took back, and that are not on record as unanswered yet. */
export function listUnanswered(
  tx: TenantTransaction,
  now: Instant,
  limit: number,
): Promise<readonly AcceptanceRequest[]> {
  return requests(tx)
    .where(
      and(
        eq(acceptanceRequests.tenantId, tx.tenantId),
        isNull(acceptanceRequests.unansweredAt),
        isNull(accessLinks.revokedAt),
        isNull(acceptances.id),
        lte(accessLinks.expiresAt, now),
        eq(workOrders.state, 'done'),
      ),
    )
    .orderBy(asc(accessLinks.expiresAt), asc(accessLinks.id))
    .limit(limit);
}

/** Puts on record that nobody answered; what is on record already keeps its moment. */
export async function setUnanswered(tx: TenantTransaction, linkId: AccessLinkId, at: Instant): Promise<void> {
  await tx
    .update(acceptanceRequests)
    .set({ unansweredAt: at })
    .where(
      and(
        eq(acceptanceRequests.tenantId, tx.tenantId),
        eq(acceptanceRequests.linkId, linkId),
        isNull(acceptanceRequests.unansweredAt),
      ),
    );
}

function requests(tx: TenantTransaction) {
  return tx
    .select({
      linkId: acceptanceRequests.linkId,
      workOrderId: acceptanceRequests.workOrderId,
      ownerName: acceptanceRequests.ownerName,
      phone: acceptanceRequests.phone,
      email: acceptanceRequests.email,
      madeBy: accessLinks.madeBy,
      madeByName: people.name,
      madeAt: accessLinks.madeAt,
      expiresAt: accessLinks.expiresAt,
      revokedAt: accessLinks.revokedAt,
      unansweredAt: acceptanceRequests.unansweredAt,
      acceptanceId: acceptances.id,
      outcome: acceptances.outcome,
    })
    .from(acceptanceRequests)
    .innerJoin(
      accessLinks,
      and(
        eq(accessLinks.tenantId, acceptanceRequests.tenantId),
        eq(accessLinks.id, acceptanceRequests.linkId),
      ),
    )
    .innerJoin(
      workOrders,
      and(
        eq(workOrders.tenantId, acceptanceRequests.tenantId),
        eq(workOrders.id, acceptanceRequests.workOrderId),
      ),
    )
    .leftJoin(people, and(eq(people.tenantId, accessLinks.tenantId), eq(people.id, accessLinks.madeBy)))
    .leftJoin(
      acceptances,
      and(
        eq(acceptances.tenantId, acceptanceRequests.tenantId),
        eq(acceptances.linkId, acceptanceRequests.linkId),
      ),
    );
}
