import { rm } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { countUploadParts, findUploadPart, insertUploadPart, lockUpload } from '@grainwright/db';
import { ok, type Result, refuse, type UploadId } from '@grainwright/domain';
import { partKey, type ReceivedPhoto, receivePhoto } from '@grainwright/evidence';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openUpload, partBytesMax, partsMax, type UploadView, viewAt } from './upload-view.ts';

export interface AddUploadPartInput {
  readonly uploadId: UploadId;
  /** Where in the file the part begins. */
  readonly offset: number;
  /** Of the part, as its sender counted it, lower-case hex. */
  readonly sha256: string;
  readonly stream: Readable;
  /** Where the part is put while it comes in. */
  readonly directory: string;
}

/**
 * Takes the next part of an upload. Its bytes are durable before its row is, so what it answers is held. A part that is
 * held already answers as the first time. Refuses with `upload_offset` what begins elsewhere than where the upload goes
 * on, and with `upload_digest` what arrived changed; nothing of it is kept then.
 */
export async function addUploadPart(
  services: Services,
  actor: Actor,
  input: AddUploadPartInput,
): Promise<Result<UploadView>> {
  const place = await performAsStaff(services, actor, 'write_up', (scope) => findPlace(scope, input));
  if (!place.ok) return place;
  if (place.value.held !== null) return ok(place.value.held);
  const received = await receivePart(input, place.value.bytesMax);
  if (!received.ok) return received;
  const { path, sha256, bytes } = received.value;
  const storageKey = partKey(actor.tenantId, input.uploadId, sha256);
  try {
    await services.objects.put(path, storageKey);
  } finally {
    await rm(path, { force: true });
  }
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const now = await findPlace(scope, input, lockUpload);
    if (!now.ok) return now;
    if (now.value.held !== null) return ok(now.value.held);
    const { uploadId, offset } = input;
    const part = { uploadId, partOffset: BigInt(offset), bytes: BigInt(bytes), sha256, storageKey };
    await insertUploadPart(scope.tx, { ...part, receivedAt: scope.now });
    return ok(viewAt({ id: uploadId, bytes: BigInt(now.value.total) }, BigInt(offset + bytes)));
  });
}

interface Place {
  /** The answer where nothing needs to come in any more. */
  readonly held: UploadView | null;
  readonly bytesMax: number;
  readonly total: number;
}

async function findPlace(
  scope: Scope,
  { uploadId, offset, sha256 }: AddUploadPartInput,
  find?: typeof lockUpload,
): Promise<Result<Place>> {
  const opened = await openUpload(scope, uploadId, find);
  if (!opened.ok) return opened;
  const upload = opened.value;
  const total = Number(upload.bytes);
  const place = { held: null, bytesMax: Math.min(partBytesMax, total - offset), total };
  if (upload.usedAt !== null) return ok({ ...place, held: viewAt(upload, upload.bytes) });
  const held = await countUploadParts(scope.tx, uploadId);
  if (BigInt(offset) === held.bytes && offset < total)
    return held.count < partsMax ? ok(place) : tooManyParts;
  const part = await findUploadPart(scope.tx, uploadId, BigInt(offset));
  if (part !== null && part.sha256 === sha256)
    return ok({ ...place, held: viewAt(upload, part.partOffset + part.bytes) });
  return refuse(
    'upload_offset',
    `So far ${held.bytes} bytes are held. Go on from there, not from ${offset}.`,
    'upload_offset',
  );
}

const tooManyParts = refuse(
  'invalid_input',
  `A file may come in at most ${partsMax} parts. Begin it again under a new id, in larger parts.`,
  'upload_id',
);

async function receivePart(input: AddUploadPartInput, maxBytes: number): Promise<Result<ReceivedPhoto>> {
  const { stream, directory } = input;
  const received = await receivePhoto(stream, { directory, maxBytes });
  if (!received.ok && received.problem.code !== 'photo_too_large') return received;
  if (!received.ok)
    return refuse(
      'invalid_input',
      `A part has at most ${partBytesMax} bytes, and all of them no more than was announced; from ${input.offset} on it may have ${maxBytes}. Send a smaller part.`,
      'body',
    );
  if (received.value.sha256 === input.sha256 && received.value.bytes > 0) return received;
  await rm(received.value.path, { force: true });
  return refuse(
    'upload_digest',
    'The part did not arrive as it was sent: its digest differs, and nothing of it was kept. Send it again.',
    'content-digest',
  );
}
