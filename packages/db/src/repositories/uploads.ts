import type { Instant, PersonId, UploadId } from '@grainwright/domain';
import { and, asc, eq, isNull, lt, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { uploadParts, uploads } from '../schema/uploads.ts';

export type UploadRow = typeof uploads.$inferSelect;
export type UploadPartRow = typeof uploadParts.$inferSelect;

/** Inserts unless the id is taken; answers whether it did. */
export async function insertUpload(
  tx: TenantTransaction,
  upload: Omit<UploadRow, 'tenantId' | 'usedFor' | 'usedAt'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(uploads)
    .values({ tenantId: tx.tenantId, ...upload })
    .onConflictDoNothing()
    .returning({ id: uploads.id });
  return inserted.length === 1;
}

export async function findUpload(tx: TenantTransaction, id: UploadId): Promise<UploadRow | null> {
  const [row] = await tx.select().from(uploads).where(ownUpload(tx, id));
  return row ?? null;
}

/** As `findUpload`, and whoever else would add to it or use it waits until this transaction is over. */
export async function lockUpload(tx: TenantTransaction, id: UploadId): Promise<UploadRow | null> {
  const [row] = await tx.select().from(uploads).where(ownUpload(tx, id)).for('update');
  return row ?? null;
}

export interface OpenUploads {
  readonly count: number;
  /** Announced, whether here already or not. */
  readonly bytes: bigint;
}

/** What a person has announced and not used yet. Two that begin at the same moment are counted one after the other. */
export async function countOpenUploads(tx: TenantTransaction, personId: PersonId): Promise<OpenUploads> {
  await tx.execute(
    sql`select pg_advisory_xact_lock(hashtextextended(${`uploads of ${tx.tenantId} ${personId}`}, 0))`,
  );
  const [row] = await tx
    .select({
      count: sql<number>`count(*)::integer`,
      bytes: sql<string>`coalesce(sum(${uploads.bytes}), 0)::text`,
    })
    .from(uploads)
    .where(and(eq(uploads.tenantId, tx.tenantId), eq(uploads.personId, personId), isNull(uploads.usedAt)));
  return { count: row?.count ?? 0, bytes: BigInt(row?.bytes ?? '0') };
}

/** Its parts in order, without a gap. There are at most as many as one upload takes. */
export async function listUploadParts(
  tx: TenantTransaction,
  uploadId: UploadId,
  partsMax: number,
): Promise<readonly UploadPartRow[]> {
  return tx
    .select()
    .from(uploadParts)
    .where(and(eq(uploadParts.tenantId, tx.tenantId), eq(uploadParts.uploadId, uploadId)))
    .orderBy(asc(uploadParts.partOffset))
    .limit(partsMax);
}

export interface HeldParts {
  readonly count: number;
  readonly bytes: bigint;
}

export async function countUploadParts(tx: TenantTransaction, uploadId: UploadId): Promise<HeldParts> {
  const [row] = await tx
    .select({
      count: sql<number>`count(*)::integer`,
      bytes: sql<string>`coalesce(sum(${uploadParts.bytes}), 0)::text`,
    })
    .from(uploadParts)
    .where(and(eq(uploadParts.tenantId, tx.tenantId), eq(uploadParts.uploadId, uploadId)));
  return { count: row?.count ?? 0, bytes: BigInt(row?.bytes ?? '0') };
}

export async function findUploadPart(
  tx: TenantTransaction,
  uploadId: UploadId,
  partOffset: bigint,
): Promise<UploadPartRow | null> {
  const [row] = await tx
    .select()
    .from(uploadParts)
    .where(
      and(
        eq(uploadParts.tenantId, tx.tenantId),
        eq(uploadParts.uploadId, uploadId),
        eq(uploadParts.partOffset, partOffset),
      ),
    );
  return row ?? null;
}

/** The upload is locked: nobody else adds a part meanwhile. */
export async function insertUploadPart(
  tx: TenantTransaction,
  part: Omit<UploadPartRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(uploadParts).values({ tenantId: tx.tenantId, ...part });
  await tx.update(uploads).set({ lastPartAt: part.receivedAt }).where(ownUpload(tx, part.uploadId));
}

/** Forgets its parts and answers where their bytes are. */
export async function deleteUploadParts(
  tx: TenantTransaction,
  uploadId: UploadId,
): Promise<readonly string[]> {
  const deleted = await tx
    .delete(uploadParts)
    .where(and(eq(uploadParts.tenantId, tx.tenantId), eq(uploadParts.uploadId, uploadId)))
    .returning({ storageKey: uploadParts.storageKey });
  return deleted.map(({ storageKey }) => storageKey);
}

/** Says what an upload has become. */
export async function markUploadUsed(
  tx: TenantTransaction,
  id: UploadId,
  usedFor: string,
  usedAt: Instant,
): Promise<void> {
  await tx.update(uploads).set({ usedFor, usedAt }).where(ownUpload(tx, id));
}

/** Which uploads nobody goes on with: no part since one moment, or used before the other. */
export async function listStaleUploads(
  tx: TenantTransaction,
  before: { readonly lastPart: Instant; readonly used: Instant },
  rowsMax: number,
): Promise<readonly UploadRow[]> {
  return tx
    .select()
    .from(uploads)
    .where(and(eq(uploads.tenantId, tx.tenantId), staleBefore(before)))
    .orderBy(asc(uploads.id))
    .limit(rowsMax);
}

/** Forgets an upload and its parts, unless somebody went on with it meanwhile. */
export async function deleteStaleUpload(
  tx: TenantTransaction,
  id: UploadId,
  before: { readonly lastPart: Instant; readonly used: Instant },
): Promise<void> {
  await tx.delete(uploads).where(and(ownUpload(tx, id), staleBefore(before)));
}

function staleBefore({ lastPart, used }: { readonly lastPart: Instant; readonly used: Instant }) {
  return sql`case when ${uploads.usedAt} is null then ${lt(uploads.lastPartAt, lastPart)} else ${lt(uploads.usedAt, used)} end`;
}

function ownUpload(tx: TenantTransaction, id: UploadId): SQL | undefined {
  return and(eq(uploads.tenantId, tx.tenantId), eq(uploads.id, id));
}
