import { rm } from 'node:fs/promises';
import { Readable } from 'node:stream';
import {
  countUploadParts,
  deleteUploadParts,
  listUploadParts,
  lockUpload,
  markUploadUsed,
  type UploadPartRow,
  type UploadRow,
} from '@grainwright/db';
import { ok, type Result, refuse, type UploadId } from '@grainwright/domain';
import { type ObjectStore, type ReceivedPhoto, receivePhoto, toObjectKey } from '@grainwright/evidence';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openUpload, partsMax, type UploadKind, uploadKind } from './upload-view.ts';

export interface TakeUploadInput {
  readonly uploadId: UploadId;
  /** What it must have been announced as; anything unless given. */
  readonly kind?: UploadKind;
  /** For the file while it is put together, on the file system of the object store. */
  readonly directory: string;
}

/** A file put together from its parts, with the digest that was announced. */
export interface TakenUpload extends ReceivedPhoto {
  readonly mediaType: string;
}

/**
 * Puts a finished upload together and lends it out as a local file, which is gone when `use` has answered. Whoever
 * makes a record of it calls `useUpload` in the transaction that writes the record; once that has committed, the parts
 * are removed. Killed at any moment, it is either to be done again or done. Refuses with `not_found`,
 * `upload_unfinished`, `invalid_input` for one announced as another kind, `id_reused` for what became something already, `upload_digest` when the parts do not make up
 * what was announced (they are forgotten then, and it begins anew), or as `use` does.
 */
export async function takeUpload<T>(
  services: Services,
  actor: Actor,
  { uploadId, kind, directory }: TakeUploadInput,
  use: (file: TakenUpload) => Promise<Result<T>>,
): Promise<Result<T>> {
  const found = await performAsStaff(services, actor, 'write_up', (scope) =>
    findFinished(scope, uploadId, kind),
  );
  if (!found.ok) return found;
  const { upload, parts } = found.value;
  const assembled = await assemble(services.objects, found.value, directory);
  if (!assembled.ok) return assembled;
  if (assembled.value === null) return startAnew(services, actor, uploadId);
  try {
    const used = await use({ ...assembled.value, mediaType: upload.mediaType });
    if (used.ok) await removeParts(services.objects, parts);
    return used;
  } finally {
    await rm(assembled.value.path, { force: true });
  }
}

/**
 * Says, in the transaction that writes what an upload becomes, that it has become that. The same again is fine; for
 * something else it is `id_reused`.
 */
export async function useUpload(scope: Scope, uploadId: UploadId, usedFor: string): Promise<Result<true>> {
  const upload = await openUpload(scope, uploadId, lockUpload);
  if (!upload.ok) return upload;
  if (upload.value.usedFor !== null) return upload.value.usedFor === usedFor ? ok(true) : usedAlready;
  await deleteUploadParts(scope.tx, uploadId);
  await markUploadUsed(scope.tx, uploadId, usedFor, scope.now);
  return ok(true);
}

const usedAlready = refuse(
  'id_reused',
  'This upload was already used for something else. Send the file again under a new id.',
  'upload_id',
);

interface FinishedUpload {
  readonly upload: UploadRow;
  readonly parts: readonly UploadPartRow[];
}

async function findFinished(
  scope: Scope,
  uploadId: UploadId,
  kind: UploadKind | undefined,
): Promise<Result<FinishedUpload>> {
  const upload = await openUpload(scope, uploadId);
  if (!upload.ok) return upload;
  if (upload.value.usedFor !== null) return usedAlready;
  if (kind !== undefined && uploadKind(upload.value.mediaType) !== kind)
    return refuse('invalid_input', `This upload was not announced as a ${kind}.`, 'upload_id');
  const held = await countUploadParts(scope.tx, uploadId);
  if (held.bytes < upload.value.bytes)
    return refuse(
      'upload_unfinished',
      `Only ${held.bytes} of ${upload.value.bytes} bytes are here. Send the rest first.`,
      'upload_id',
    );
  return ok({ upload: upload.value, parts: await listUploadParts(scope.tx, uploadId, partsMax) });
}

/** Null when what is there is not what was announced. Never more than a chunk of it is in memory. */
async function assemble(
  objects: ObjectStore,
  { upload, parts }: FinishedUpload,
  directory: string,
): Promise<Result<ReceivedPhoto | null>> {
  const whole = Readable.from(contentOf(objects, parts), { objectMode: false });
  const received = await receivePhoto(whole, { directory, maxBytes: Number(upload.bytes) });
  if (!received.ok) return received;
  if (received.value.sha256 === upload.sha256) return received;
  await rm(received.value.path, { force: true });
  return ok(null);
}

async function* contentOf(objects: ObjectStore, parts: readonly UploadPartRow[]): AsyncIterable<Buffer> {
  for (const { storageKey } of parts) {
    const part = await objects.open(toObjectKey(storageKey));
    // Missing, it leaves a gap, which the digest of the whole tells.
    if (part !== null) yield* part.stream;
  }
}

async function startAnew(services: Services, actor: Actor, uploadId: UploadId): Promise<Result<never>> {
  const forgotten = await performAsStaff(services, actor, 'write_up', async (scope) => {
    const upload = await openUpload(scope, uploadId, lockUpload);
    if (!upload.ok) return upload;
    // Somebody else took it while we read: its parts were going.
    if (upload.value.usedFor !== null)
      return refuse('unavailable', 'This file is being taken in by another request. Send the same again.');
    await deleteUploadParts(scope.tx, uploadId);
    return ok(true);
  });
  if (!forgotten.ok) return forgotten;
  // The bytes of its parts stay for the sweep: the same part may be on its way in again.
  return refuse(
    'upload_digest',
    'The parts do not make up the file that was announced: their digest differs. Send it from its beginning.',
    'upload_id',
  );
}

/** What is left when this is interrupted goes with the next sweep. */
async function removeParts(objects: ObjectStore, parts: readonly UploadPartRow[]): Promise<void> {
  for (const { storageKey } of parts) await objects.remove(toObjectKey(storageKey)).catch(() => false);
}
