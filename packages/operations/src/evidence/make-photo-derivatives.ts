import { randomUUID } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { findDerivative, findPhoto, insertDerivatives, type PhotoRow } from '@grainwright/db';
import { ok, type PhotoId, type Result, type TenantId } from '@grainwright/domain';
import { type Derivative, fetchObject, makeDerivatives, objectKey, toObjectKey } from '@grainwright/evidence';
import type { Services } from '../services.ts';

export interface PhotoToCopy {
  readonly tenantId: TenantId;
  readonly photoId: PhotoId;
  /** For the files while they are made, on the file system of the object store. */
  readonly directory: string;
}

/**
 * The worker's part: makes the upright, position-stripped copies of one photo. Doing it again does nothing, and two
 * at once end up with the same bytes. Throws where the photo or its original is missing.
 */
export async function makePhotoDerivatives(
  services: Pick<Services, 'database' | 'objects' | 'now'>,
  { tenantId, photoId, directory }: PhotoToCopy,
): Promise<Result<'made' | 'already there'>> {
  const asWorker = { role: 'worker', tenantId } as const;
  const found = await services.database.withTenant(asWorker, async (tx) =>
    ok({ photo: await findPhoto(tx, photoId), copy: await findDerivative(tx, photoId, 'thumb') }),
  );
  if (!found.ok) return found;
  const { photo, copy } = found.value;
  if (photo === null) throw new Error(`there is no photo ${photoId}`);
  if (copy !== null) return ok('already there');
  const copies = await makeCopies(services, tenantId, photo, directory);
  const madeAt = services.now();
  return services.database.withTenant(asWorker, async (tx) => {
    await insertDerivatives(
      tx,
      copies.map((each) => ({ ...each, photoId, madeAt })),
    );
    return ok('made' as const);
  });
}

async function makeCopies(
  { objects }: Pick<Services, 'objects'>,
  tenantId: TenantId,
  photo: PhotoRow,
  directory: string,
) {
  const source = join(directory, `${randomUUID()}.original`);
  const made: Derivative[] = [];
  try {
    if (!(await fetchObject(objects, toObjectKey(photo.storageKey), source)))
      throw new Error(`the object store lacks ${photo.storageKey}`);
    const { view, thumb } = await makeDerivatives(source, directory);
    made.push(view, thumb);
    const copies = [
      { kind: 'view' as const, ...view },
      { kind: 'thumb' as const, ...thumb },
    ].map(({ path, bytes, ...rest }) => ({
      row: { ...rest, bytes: BigInt(bytes), storageKey: objectKey(tenantId, rest.kind, rest.sha256) },
      path,
    }));
    for (const { row, path } of copies) await objects.put(path, row.storageKey);
    return copies.map(({ row }) => row);
  } finally {
    await Promise.all([source, ...made.map(({ path }) => path)].map((path) => rm(path, { force: true })));
  }
}
