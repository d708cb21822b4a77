import type { Day, DeletionId, Instant, RetentionKind, TenantId } from '@grainwright/domain';
import { and, asc, desc, eq, inArray, type SQL, sql } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { businesses } from '../schema/accounts.ts';
import { deletionRemovals, deletions } from '../schema/retention.ts';
import { outgoingMails } from '../schema/statements.ts';

export type DeletionRow = Omit<typeof deletions.$inferSelect, 'tenantId'>;

/** What everybody may read of a deletion: the business's own day, and how long the rule keeps such things. */
export const shownDeletion = {
  on: sql<Day>`(select (${deletions.deletedAt} at time zone b.time_zone)::date from ${businesses} as b
    where b.tenant_id = ${deletions.tenantId})`,
  period: deletions.period,
  unit: deletions.unit,
};

export interface ShownDeletion extends Pick<DeletionRow, 'period' | 'unit'> {
  readonly on: Day;
}

/** For a join with the deletion of whatever `of` names. */
export function deletionOf(
  kind: RetentionKind,
  of: { readonly tenantId: AnyPgColumn; readonly id: AnyPgColumn },
): SQL | undefined {
  return and(
    sql`${deletions.tenantId} = ${of.tenantId}`,
    sql`${deletions.kind} = ${kind}`,
    sql`${deletions.subjectId} = ${of.id}`,
  );
}

/** What let go of this, in whatever role the transaction has; null while it is kept. */
export async function findShownDeletion(
  tx: TenantTransaction,
  kind: RetentionKind,
  subjectId: string,
): Promise<ShownDeletion | null> {
  const [row] = await tx
    .select(shownDeletion)
    .from(deletions)
    .where(
      and(eq(deletions.tenantId, tx.tenantId), eq(deletions.kind, kind), eq(deletions.subjectId, subjectId)),
    );
  return row ?? null;
}

/** Inserts in the order given; the database refuses what is to be kept. */
export async function insertDeletions(tx: TenantTransaction, rows: readonly DeletionRow[]): Promise<void> {
  if (rows.length > 0)
    await tx.insert(deletions).values(rows.map((row) => ({ tenantId: tx.tenantId, ...row })));
}

export async function findDeletion(
  tx: TenantTransaction,
  id: DeletionId,
): Promise<{ readonly deletion: DeletionRow; readonly isRemoved: boolean } | null> {
  const [row] = await tx
    .select({ deletion: deletions, removedAt: deletionRemovals.removedAt })
    .from(deletions)
    .leftJoin(deletionRemovals, removalOf)
    .where(and(eq(deletions.tenantId, tx.tenantId), eq(deletions.id, id)));
  return row === undefined ? null : { deletion: row.deletion, isRemoved: row.removedAt !== null };
}

const removalOf = and(
  eq(deletionRemovals.tenantId, deletions.tenantId),
  eq(deletionRemovals.deletionId, deletions.id),
);

/** What is on record as deleted, and whose bytes have not gone yet, the oldest first. */
export async function listUnremovedDeletions(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly DeletionId[]> {
  const rows = await tx
    .select({ id: deletions.id })
    .from(deletions)
    .leftJoin(deletionRemovals, removalOf)
    .where(and(eq(deletions.tenantId, tx.tenantId), sql`${deletionRemovals.deletionId} is null`))
    .orderBy(asc(deletions.deletedAt), asc(deletions.id))
    .limit(limit);
  return rows.map(({ id }) => id);
}

/** The latest deletions, for the owner's page. */
export async function listDeletions(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly (DeletionRow & { readonly removedAt: Instant | null })[]> {
  const rows = await tx
    .select({ deletion: deletions, removedAt: deletionRemovals.removedAt })
    .from(deletions)
    .leftJoin(deletionRemovals, removalOf)
    .where(eq(deletions.tenantId, tx.tenantId))
    .orderBy(desc(deletions.deletedAt), desc(deletions.id))
    .limit(limit);
  return rows.map(({ deletion, removedAt }) => ({ ...deletion, removedAt }));
}

/** False when it was written before. */
export async function insertDeletionRemoval(
  tx: TenantTransaction,
  removal: Omit<typeof deletionRemovals.$inferSelect, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(deletionRemovals)
    .values({ tenantId: tx.tenantId, ...removal })
    .onConflictDoNothing()
    .returning({ id: deletionRemovals.deletionId });
  return inserted.length === 1;
}

/** Lets the words of mails go that are on record as deleted. */
export async function clearMailWords(tx: TenantTransaction, ids: readonly string[]): Promise<void> {
  if (ids.length === 0) return;
  await tx
    .update(outgoingMails)
    .set({ body: '' })
    .where(and(eq(outgoingMails.tenantId, tx.tenantId), inArray(sql`${outgoingMails.id}::text`, [...ids])));
}

/** Which of these places hold the bytes of something that is not deleted. */
export async function listNeededKeys(
  tx: TenantTransaction,
  keys: readonly string[],
): Promise<ReadonlySet<string>> {
  if (keys.length === 0) return new Set();
  const rows = await tx.execute<{ storage_key: string }>(neededKeys(tx.tenantId, keys));
  return new Set([...rows].map((row) => row.storage_key));
}

function neededKeys(tenantId: TenantId, keys: readonly string[]): SQL {
  const among = sql`in ${[...keys]}`;
  const kept = (kind: RetentionKind, id: SQL) => sql`not exists (select from deletions d
    where d.tenant_id = ${tenantId} and d.kind = ${kind} and d.subject_id = ${id})`;
  return sql`
    select p.storage_key from photos p
    where p.tenant_id = ${tenantId} and p.storage_key ${among} and ${kept('photos', sql`p.id`)}
    union
    select c.storage_key from photo_derivatives c
    where c.tenant_id = ${tenantId} and c.storage_key ${among} and ${kept('photos', sql`c.photo_id`)}
    union
    select c.storage_key from covered_copies c
    join photo_coverings g on g.tenant_id = c.tenant_id and g.id = c.covering_id
    where c.tenant_id = ${tenantId} and c.storage_key ${among} and ${kept('photos', sql`g.photo_id`)}
    union
    select f.storage_key from recording_files f
    where f.tenant_id = ${tenantId} and f.storage_key ${among} and ${kept('recordings', sql`f.recording_id`)}
    union
    select f.storage_key from statement_files f
    where f.tenant_id = ${tenantId} and f.storage_key ${among} and ${kept('documents', sql`f.statement_id`)}
    union
    select a.storage_key from outgoing_mail_attachments a
    where a.tenant_id = ${tenantId} and a.storage_key ${among}`;
}
