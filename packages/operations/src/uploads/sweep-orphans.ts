import { deleteStaleUpload, findNamedObjects, listStaleUploads } from '@grainwright/db';
import { addSeconds, type Instant, ok, type Result, type TenantId } from '@grainwright/domain';
import { type ListedObject, type ObjectKind, objectKindOf } from '@grainwright/evidence';
import type { Services } from '../services.ts';

export interface SweepInput {
  readonly tenantId: TenantId;
  /**
   * By the store's clock. Bytes are put before the row that names them is written, so what was put lately may be about
   * to be named: the moment must be further back than any request or job lasts. An hour is, with room to spare.
   */
  readonly lastWrittenBefore: Date;
  /** False only tells. */
  readonly remove: boolean;
  /**
   * With more orphans than this, parts of uploads left aside, nothing is removed: a few are what a process leaves that
   * dies, many are a database that was restored from before them. Any number unless given.
   */
  readonly orphansMax?: number;
}

export interface StorageSwept {
  readonly objects: number;
  /** False where it only tells, or found too many. */
  readonly removed: boolean;
  /** Bytes that no row names: gone, or to go where nothing was removed. */
  readonly orphans: readonly Pick<ListedObject, 'key' | 'bytes' | 'writtenAt'>[];
  /** Uploads that nobody went on with, forgotten with their parts. */
  readonly uploads: number;
}

const day = 86_400;
/** A phone that comes back after a week begins anew. */
const unfinishedSeconds = 7 * day;
/** So long an upload that became something still says so to whoever lost the answer. */
const usedSeconds = 30 * day;
const batchMax = 500;

/**
 * Removes bytes without a row, which a process leaves that dies between the two, and forgets uploads that nobody goes
 * on with. An object that was put again meanwhile stays. Logos stay too: statements of old name theirs in their text.
 */
export async function sweepOrphans(
  services: Pick<Services, 'database' | 'objects' | 'now'>,
  { tenantId, lastWrittenBefore, remove, orphansMax = Number.POSITIVE_INFINITY }: SweepInput,
): Promise<Result<StorageSwept>> {
  const uploads = await forgetUploads(services, tenantId, remove);
  if (!uploads.ok) return uploads;
  const orphans: ListedObject[] = [];
  let objects = 0;
  for await (const batch of batches(services.objects.list(tenantId))) {
    objects += batch.length;
    const old = batch.filter(({ key, writtenAt }) => isSwept(key) && writtenAt < lastWrittenBefore);
    const unnamed = await findUnnamed(services, tenantId, old);
    if (!unnamed.ok) return unnamed;
    orphans.push(...unnamed.value);
  }
  const told = { objects, uploads: uploads.value };
  if (!remove || orphans.filter(({ key }) => objectKindOf(key) !== 'part').length > orphansMax)
    return ok({ ...told, removed: false, orphans });
  const gone = await removeAll(services, tenantId, orphans, lastWrittenBefore);
  return gone.ok ? ok({ ...told, removed: true, orphans: gone.value }) : gone;
}

/** Answers with what went: somebody may have put one again since it was seen, or given it a row. Each is asked anew. */
async function removeAll(
  services: Pick<Services, 'database' | 'objects'>,
  tenantId: TenantId,
  orphans: readonly ListedObject[],
  unlessWrittenSince: Date,
): Promise<Result<readonly ListedObject[]>> {
  const gone: ListedObject[] = [];
  for (const each of orphans) {
    const unnamed = await findUnnamed(services, tenantId, [each]);
    if (!unnamed.ok) return unnamed;
    if (unnamed.value.length > 0 && (await services.objects.remove(each.key, { unlessWrittenSince })))
      gone.push(each);
  }
  return ok(gone);
}

const stays: readonly ObjectKind[] = ['logo'];

function isSwept(key: ListedObject['key']): boolean {
  return !stays.some((kind) => kind === objectKindOf(key));
}

async function findUnnamed(
  { database }: Pick<Services, 'database'>,
  tenantId: TenantId,
  listed: readonly ListedObject[],
): Promise<Result<readonly ListedObject[]>> {
  if (listed.length === 0) return ok([]);
  return database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const named = await findNamedObjects(
      tx,
      listed.map(({ key }) => key),
    );
    return ok(listed.filter(({ key }) => !named.has(key)));
  });
}

async function forgetUploads(
  { database, now }: Pick<Services, 'database' | 'now'>,
  tenantId: TenantId,
  remove: boolean,
): Promise<Result<number>> {
  const before = { lastPart: ago(now(), unfinishedSeconds), used: ago(now(), usedSeconds) };
  let count = 0;
  for (;;) {
    const forgotten = await database.withTenant({ role: 'staff', tenantId }, async (tx) => {
      const stale = await listStaleUploads(tx, before, batchMax);
      if (remove) for (const { id } of stale) await deleteStaleUpload(tx, id, before);
      return ok(stale.length);
    });
    if (!forgotten.ok) return forgotten;
    count += forgotten.value;
    if (!remove || forgotten.value < batchMax) return ok(count);
  }
}

function ago(at: Instant, seconds: number): Instant {
  return addSeconds(at, -seconds);
}

async function* batches<T>(all: AsyncIterable<T>): AsyncIterable<readonly T[]> {
  let batch: T[] = [];
  for await (const each of all) {
    batch.push(each);
    if (batch.length < batchMax) continue;
    yield batch;
    batch = [];
  }
  if (batch.length > 0) yield batch;
}
