import { randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ok, type Result, type TenantId } from '@grainwright/domain';
import {
  inspectPhoto,
  inspectRecording,
  makePoster,
  type ObjectStore,
  objectKey,
  type RecordingFacts,
} from '@grainwright/evidence';

interface KeptFile {
  readonly sha256: string;
  readonly bytes: bigint;
  readonly storageKey: string;
}

/** A recording whose bytes are in the object store. */
export interface KeptRecording extends RecordingFacts {
  readonly film: KeptFile;
  readonly poster: KeptFile | null;
}

/** Looks at a recording's real bytes and puts it, with its poster, under the keys that name their content. */
export async function keepRecording(
  objects: ObjectStore,
  tenantId: TenantId,
  file: { readonly path: string; readonly sha256: string; readonly bytes: number },
  { poster, directory }: { readonly poster: Uint8Array | null; readonly directory: string },
): Promise<Result<KeptRecording>> {
  const inspected = await inspectRecording(file.path);
  if (!inspected.ok) return inspected;
  const storageKey = objectKey(tenantId, 'recording', file.sha256);
  await objects.put(file.path, storageKey);
  return ok({
    ...inspected.value,
    film: { sha256: file.sha256, bytes: BigInt(file.bytes), storageKey },
    poster: poster === null ? null : await keepPoster(objects, tenantId, poster, directory),
  });
}

/** Null where the picture can't be read: the recording counts without it. */
async function keepPoster(
  objects: ObjectStore,
  tenantId: TenantId,
  picture: Uint8Array,
  directory: string,
): Promise<KeptFile | null> {
  const source = join(directory, `${randomUUID()}.upload`);
  try {
    await writeFile(source, picture, { flag: 'wx', mode: 0o600 });
    if (!(await inspectPhoto(source)).ok) return null;
    const { path, sha256, bytes } = await makePoster(source, directory);
    try {
      const storageKey = objectKey(tenantId, 'poster', sha256);
      await objects.put(path, storageKey);
      return { sha256, bytes: BigInt(bytes), storageKey };
    } finally {
      await rm(path, { force: true });
    }
  } finally {
    await rm(source, { force: true });
  }
}
