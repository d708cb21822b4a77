import {
  findDeletion,
  insertDeletionRemoval,
  listNeededKeys,
  listSubjectFiles,
  type TenantTransaction,
} from '@grainwright/db';
import { addSeconds, type DeletionId, ok, type Result, refuse, type TenantId } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import type { Services } from '../services.ts';

export interface DeletionToFinish {
  readonly tenantId: TenantId;
  readonly deletionId: DeletionId;
}

/** An upload of the same bytes may be between its bytes and its row; that takes far less. */
const recentSeconds = 3600;

/**
 * The worker's part: takes the bytes of what is on record as deleted out of the store, but for those that something
 * else still needs. Doing it again does nothing; stopped between, it goes on. Refuses with `unavailable` while some of
 * the bytes were written again just now. Throws where there is no such deletion.
 */
export async function removeDeleted(
  services: Pick<Services, 'database' | 'objects' | 'now'>,
  { tenantId, deletionId }: DeletionToFinish,
): Promise<Result<'removed' | 'removed before'>> {
  const asStaff = { role: 'staff', tenantId } as const;
  const found = await services.database.withTenant(asStaff, async (tx) => ok(await plan(tx, deletionId)));
  if (!found.ok) return found;
  if (found.value === null) return ok('removed before');
  const { keys } = found.value;
  let { shared } = found.value;
  const since = new Date(addSeconds(services.now(), -recentSeconds));
  let removed = 0;
  for (const key of keys) {
    // Asked anew for each: something else may have come to need it since.
    const needed = await services.database.withTenant(asStaff, async (tx) =>
      ok(await listNeededKeys(tx, [key])),
    );
    if (!needed.ok) return needed;
    if (needed.value.size > 0) {
      shared += 1;
      continue;
    }
    if (await services.objects.remove(toObjectKey(key), { unlessWrittenSince: since })) removed += 1;
    else if (await services.objects.has(toObjectKey(key)))
      return refuse('unavailable', `The bytes under ${key} were written again just now. Try again later.`);
  }
  return services.database.withTenant(asStaff, async (tx) => {
    const removal = { deletionId, objectsRemoved: removed, objectsShared: shared, removedAt: services.now() };
    return ok((await insertDeletionRemoval(tx, removal)) ? 'removed' : 'removed before');
  });
}

/** What to remove: the files on record, and what was made since; null when that was done. */
async function plan(
  tx: TenantTransaction,
  deletionId: DeletionId,
): Promise<{ readonly keys: readonly string[]; readonly shared: number } | null> {
  const found = await findDeletion(tx, deletionId);
  if (found === null) throw new Error(`there is no deletion ${deletionId}`);
  if (found.isRemoved) return null;
  const { kind, subjectId, files } = found.deletion;
  const now = await listSubjectFiles(tx, kind, [subjectId]);
  const all = new Set(
    [...files, ...now].flatMap(({ storage_key }) => (storage_key === null ? [] : [storage_key])),
  );
  const needed = await listNeededKeys(tx, [...all]);
  return { keys: [...all].filter((key) => !needed.has(key)), shared: needed.size };
}
