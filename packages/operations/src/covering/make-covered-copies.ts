import { randomUUID } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import {
  findCovering,
  findPhoto,
  findShownDeletion,
  insertCoveredCopies,
  listCoveredCopies,
  type PhotoRow,
} from '@grainwright/db';
import { type CoveredRegion, type CoveringId, ok, type Result, type TenantId } from '@grainwright/domain';
import {
  type Derivative,
  fetchObject,
  makeCoveredCopies as makeFiles,
  objectKey,
  toObjectKey,
} from '@grainwright/evidence';
import type { Services } from '../services.ts';

export interface CoveringToMake {
  readonly tenantId: TenantId;
  readonly coveringId: CoveringId;
  /** For the files while they are made, on the file system of the object store. */
  readonly directory: string;
}

/**
 * The worker's part: makes the copies of one photo with its parts covered, from the original. Doing it again does
 * nothing, and two at once end up with the same bytes. Throws where the covering or the original is missing.
 */
export async function makeCoveredCopies(
  services: Pick<Services, 'database' | 'objects' | 'now'>,
  { tenantId, coveringId, directory }: CoveringToMake,
): Promise<Result<'made' | 'already there' | 'nothing to cover'>> {
  const asWorker = { role: 'worker', tenantId } as const;
  const found = await services.database.withTenant(asWorker, async (tx) => {
    const covering = await findCovering(tx, coveringId);
    const photo = covering === null ? null : await findPhoto(tx, covering.photoId);
    const deletion = covering === null ? null : await findShownDeletion(tx, 'photos', covering.photoId);
    return ok({ covering, photo, deletion, copies: await listCoveredCopies(tx, [coveringId]) });
  });
  if (!found.ok) return found;
  const { covering, photo, deletion, copies } = found.value;
  if (covering === null || photo === null) throw new Error(`there is no covering ${coveringId}`);
  if (copies.length > 0) return ok('already there');
  if (covering.regions.length === 0 || deletion !== null) return ok('nothing to cover');
  const made = await makeCopies(services, tenantId, { photo, regions: covering.regions, directory });
  const madeAt = services.now();
  return services.database.withTenant(asWorker, async (tx) => {
    await insertCoveredCopies(
      tx,
      made.map((each) => ({ ...each, coveringId, madeAt })),
    );
    return ok('made' as const);
  });
}

interface ToMake {
  readonly photo: PhotoRow;
  readonly regions: readonly CoveredRegion[];
  readonly directory: string;
}

async function makeCopies(
  { objects }: Pick<Services, 'objects'>,
  tenantId: TenantId,
  { photo, regions, directory }: ToMake,
) {
  const source = join(directory, `${randomUUID()}.original`);
  const files: Derivative[] = [];
  try {
    if (!(await fetchObject(objects, toObjectKey(photo.storageKey), source)))
      throw new Error(`the object store lacks ${photo.storageKey}`);
    const made = await makeFiles(source, directory, regions);
    files.push(made.full, made.view, made.thumb);
    const copies = (['full', 'view', 'thumb'] as const).map((kind) => {
      const { path, bytes, sha256, width, height } = made[kind];
      const storageKey = objectKey(tenantId, 'covered', sha256);
      return { path, row: { kind, sha256, bytes: BigInt(bytes), width, height, storageKey } };
    });
    for (const { row, path } of copies) await objects.put(path, row.storageKey);
    return copies.map(({ row }) => row);
  } finally {
    await Promise.all([source, ...files.map(({ path }) => path)].map((path) => rm(path, { force: true })));
  }
}
