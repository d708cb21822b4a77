import type { CoveringId, Instant, PhotoId, RecordingId } from '@grainwright/domain';
import { and, desc, eq, inArray, like, sql } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import {
  coveredCopies,
  photoCoverings,
  recordingWithholdings,
  standingCoverings,
} from '../schema/coverings.ts';
import { acceptances } from '../schema/evidence.ts';
import { decisions } from '../schema/work-orders.ts';

export type CoveringRow = Omit<typeof photoCoverings.$inferSelect, 'tenantId'>;
export type CoveredCopyRow = typeof coveredCopies.$inferSelect;

/** Only a photo's rightful number is taken; false when the id is. */
export async function insertCovering(
  tx: TenantTransaction,
  covering: Omit<CoveringRow, 'covers'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(photoCoverings)
    .values({ tenantId: tx.tenantId, ...covering })
    .onConflictDoNothing({ target: [photoCoverings.tenantId, photoCoverings.id] })
    .returning({ id: photoCoverings.id });
  return inserted.length === 1;
}

export async function findCovering(tx: TenantTransaction, id: CoveringId): Promise<CoveringRow | null> {
  const [row] = await tx
    .select()
    .from(photoCoverings)
    .where(and(eq(photoCoverings.tenantId, tx.tenantId), eq(photoCoverings.id, id)));
  return row ?? null;
}

const coveringsMax = 200;

/** Every covering of a photo with who made it, the newest first: for the staff. */
export async function listCoverings(
  tx: TenantTransaction,
  photoId: PhotoId,
): Promise<readonly { readonly covering: CoveringRow; readonly madeByName: string }[]> {
  return tx
    .select({ covering: photoCoverings, madeByName: people.name })
    .from(photoCoverings)
    .innerJoin(
      people,
      and(eq(people.tenantId, photoCoverings.tenantId), eq(people.id, photoCoverings.madeBy)),
    )
    .where(and(eq(photoCoverings.tenantId, tx.tenantId), eq(photoCoverings.photoId, photoId)))
    .orderBy(desc(photoCoverings.number))
    .limit(coveringsMax);
}

export type StandingCovering = Pick<CoveringRow, 'id' | 'photoId' | 'number' | 'madeAt'>;

/** The coverings that stand over these photos, in whatever role the transaction has. */
export async function listStandingCoverings(
  tx: TenantTransaction,
  photoIds: readonly PhotoId[],
): Promise<readonly StandingCovering[]> {
  if (photoIds.length === 0) return [];
  const { id, photoId, number, madeAt } = standingCoverings;
  return tx
    .select({ id, photoId, number, madeAt })
    .from(standingCoverings)
    .where(
      and(eq(standingCoverings.tenantId, tx.tenantId), inArray(standingCoverings.photoId, [...photoIds])),
    );
}

/** The copies of these coverings, of every kind. */
export async function listCoveredCopies(
  tx: TenantTransaction,
  coveringIds: readonly CoveringId[],
): Promise<readonly CoveredCopyRow[]> {
  if (coveringIds.length === 0) return [];
  return tx
    .select()
    .from(coveredCopies)
    .where(and(eq(coveredCopies.tenantId, tx.tenantId), inArray(coveredCopies.coveringId, [...coveringIds])));
}

/** Inserts what is not there yet: made twice, the first stays. */
export async function insertCoveredCopies(
  tx: TenantTransaction,
  rows: readonly Omit<CoveredCopyRow, 'tenantId'>[],
): Promise<void> {
  await tx
    .insert(coveredCopies)
    .values(rows.map((row) => ({ tenantId: tx.tenantId, ...row })))
    .onConflictDoNothing();
}

export type WithholdingRow = Omit<typeof recordingWithholdings.$inferSelect, 'tenantId'>;

/** What became of a recording’s being shown, the newest first. */
export async function listWithholdings(
  tx: TenantTransaction,
  recordingId: RecordingId,
): Promise<readonly WithholdingRow[]> {
  return tx
    .select()
    .from(recordingWithholdings)
    .where(
      and(
        eq(recordingWithholdings.tenantId, tx.tenantId),
        eq(recordingWithholdings.recordingId, recordingId),
      ),
    )
    .orderBy(desc(recordingWithholdings.number))
    .limit(coveringsMax);
}

/** False when the id is taken. */
export async function insertWithholding(tx: TenantTransaction, row: WithholdingRow): Promise<boolean> {
  const inserted = await tx
    .insert(recordingWithholdings)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing({ target: [recordingWithholdings.tenantId, recordingWithholdings.id] })
    .returning({ id: recordingWithholdings.id });
  return inserted.length === 1;
}

/** Who answered by this photo, and when, before anything in it was covered or at all: by link, page or signature. */
export async function listAnswersWith(
  tx: TenantTransaction,
  photoId: PhotoId,
): Promise<
  readonly { readonly name: string; readonly at: Instant; readonly what: 'decision' | 'acceptance' }[]
> {
  const holds = `%"${photoId}"%`;
  const decided = await tx
    .select({ name: people.name, at: decisions.decidedAt })
    .from(decisions)
    .leftJoin(people, and(eq(people.tenantId, decisions.tenantId), eq(people.id, decisions.decidedBy)))
    .where(
      and(
        eq(decisions.tenantId, tx.tenantId),
        like(decisions.seen, holds),
        ofSameWorkOrder(decisions.workOrderId, photoId),
      ),
    );
  const accepted = await tx
    .select({ name: acceptances.signerName, at: acceptances.acceptedAt })
    .from(acceptances)
    .where(
      and(
        eq(acceptances.tenantId, tx.tenantId),
        like(acceptances.shown, holds),
        ofSameWorkOrder(acceptances.workOrderId, photoId),
      ),
    );
  return [
    ...decided.map(({ name, at }) => ({ name: name ?? '', at, what: 'decision' as const })),
    ...accepted.map((row) => ({ ...row, what: 'acceptance' as const })),
  ];
}

function ofSameWorkOrder(workOrderId: AnyPgColumn, photoId: PhotoId) {
  return sql`${workOrderId} = (select p.work_order_id from photos p
    where p.tenant_id = nullif(current_setting('app.tenant_id', true), '')::uuid and p.id = ${photoId})`;
}
