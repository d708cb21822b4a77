import { createHash } from 'node:crypto';
import { rm } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { ok, type PhotoMeasures, type Result, refuse, type TenantId } from '@grainwright/domain';
import {
  inspectPhoto,
  makeBareCopy,
  measurePhoto,
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
  extends Pick<
    PhotoFacts,
    'mediaType' | 'width' | 'height' | 'takenAtLocal' | 'takenAtOffset' | 'position' | 'exif'
  > {
  readonly sha256: string;
  /** Of the copy without what the camera wrote into it. */
  readonly bareSha256: string;
  readonly bytes: bigint;
  readonly storageKey: string;
  readonly measures: PhotoMeasures;
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
    return await keepReceived(objects, tenantId, received.value);
  } finally {
    await rm(received.value.path, { force: true });
  }
}

/** As `keepOriginal`, for a file that is here already; it stays the caller's to remove. */
export async function keepReceived(
  objects: ObjectStore,
  tenantId: TenantId,
  received: ReceivedPhoto,
): Promise<Result<KeptOriginal>> {
  const inspected = await inspectPhoto(received.path);
  if (!inspected.ok) return inspected;
  const bareSha256 = await digestOfBareCopy(received.path);
  if (bareSha256 === null)
    return refuse('photo_unreadable', 'The file is damaged. Take the photo again or send it again.', 'photo');
  const { mediaType, width, height, takenAtLocal, takenAtOffset, position, exif } = inspected.value;
  const measures = await measurePhoto(received.path);
  const storageKey = objectKey(tenantId, 'original', received.sha256);
  await objects.put(received.path, storageKey);
  return ok({
    mediaType,
    width,
    height,
    ...(takenAtLocal !== undefined && { takenAtLocal }),
    ...(takenAtOffset !== undefined && { takenAtOffset }),
    ...(position !== undefined && { position }),
    ...(exif !== undefined && { exif }),
    sha256: received.sha256,
    bareSha256,
    bytes: BigInt(received.bytes),
    storageKey,
    measures,
  });
}

/** Null where the picture decodes, but the file around it is put together wrongly. */
async function digestOfBareCopy(path: string): Promise<string | null> {
  try {
    return createHash('sha256')
      .update(await makeBareCopy(path))
      .digest('hex');
  } catch {
    return null;
  }
}
