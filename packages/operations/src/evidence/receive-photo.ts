import { rm } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { ok, type Result, refuse, type TenantId } from '@grainwright/domain';
import {
  inspectPhoto,
  type ObjectStore,
  objectKey,
  type PhotoFacts,
  type ReceivedPhoto,
  receivePhoto,
} from '@grainwright/evidence';

export interface PhotoUpload {
  readonly stream: Readable;
  readonly truncated: () => boolean;
  readonly directory: string;
  readonly bytesMax: number;
}

/** An original that is in the object store, inspected and durable. */
export interface KeptOriginal
  extends Pick<PhotoFacts, 'mediaType' | 'width' | 'height' | 'takenAtLocal' | 'position'> {
  readonly sha256: string;
  readonly bytes: bigint;
  readonly storageKey: string;
}

/**
 * Takes an upload in, looks at its real bytes and puts it under the key that names its content; no transaction is
 * open meanwhile. `expected` is the digest that an earlier row has under the same id: other bytes are then
 * `id_reused` before anything is kept. Whatever it answers, no temporary file is left.
 */
export async function keepOriginal(
  objects: ObjectStore,
  tenantId: TenantId,
  expected: string | null,
  upload: PhotoUpload,
): Promise<Result<KeptOriginal>> {
  const received = await receivePhoto(upload.stream, {
    directory: upload.directory,
    maxBytes: upload.bytesMax,
    truncated: upload.truncated,
  });
  if (!received.ok) return received;
  try {
    if (expected !== null && received.value.sha256 !== expected)
      return refuse(
        'id_reused',
        'This photo’s id was already used for another photo. Send it under a new id.',
        'photo_id',
      );
    return await keep(objects, tenantId, received.value);
  } finally {
    await rm(received.value.path, { force: true });
  }
}

async function keep(
  objects: ObjectStore,
  tenantId: TenantId,
  received: ReceivedPhoto,
): Promise<Result<KeptOriginal>> {
  const inspected = await inspectPhoto(received.path);
  if (!inspected.ok) return inspected;
  const { mediaType, width, height, takenAtLocal, position } = inspected.value;
  const storageKey = objectKey(tenantId, 'original', received.sha256);
  await objects.put(received.path, storageKey);
  return ok({
    mediaType,
    width,
    height,
    ...(takenAtLocal !== undefined && { takenAtLocal }),
    ...(position !== undefined && { position }),
    sha256: received.sha256,
    bytes: BigInt(received.bytes),
    storageKey,
  });
}
