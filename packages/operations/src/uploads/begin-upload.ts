import { countOpenUploads, findUpload, insertUpload, type UploadRow } from '@grainwright/db';
import { adviceForHeic, ok, type Result, refuse, type UploadId } from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openUpload, type UploadView, uploadKind, viewAt, viewUpload } from './upload-view.ts';

export interface BeginUploadInput {
  /** Made by the client: the same file announced again under it goes on where it broke off. */
  readonly uploadId: UploadId;
  readonly bytes: number;
  /** Of the whole file, lower-case hex. */
  readonly sha256: string;
  /** What the sender takes it for; what it is shows when it is all here. */
  readonly mediaType: string;
}

export interface UploadLimits {
  readonly photoBytesMax: number;
  readonly recordingBytesMax: number;
}

/** More than a phone keeps on a day without signal; they come one after the other. */
const openUploadsMax = 50;
const openBytesMax = 1_000_000_000n;

/**
 * Announces a file that will come in parts. Refuses at once what will not be taken: `photo_not_an_image`,
 * `photo_too_large`, `recording_too_large`; `too_many_uploads` while too much is unfinished; `id_reused` for another
 * file under the same id.
 */
export async function beginUpload(
  services: Services,
  actor: Actor,
  input: BeginUploadInput,
  limits: UploadLimits,
): Promise<Result<UploadView & { readonly isNew: boolean }>> {
  const taken = checkFile(input, limits);
  if (!taken.ok) return taken;
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const announced = { bytes: BigInt(input.bytes), sha256: input.sha256, mediaType: input.mediaType };
    const earlier = await findUpload(scope.tx, input.uploadId);
    if (earlier !== null) return goOn(scope, earlier, announced);
    const room = await checkRoom(scope, announced.bytes);
    if (!room.ok) return room;
    const row = {
      id: input.uploadId,
      personId: scope.actor.personId,
      ...announced,
      begunAt: scope.now,
      lastPartAt: scope.now,
    };
    if (await insertUpload(scope.tx, row)) return ok({ ...viewAt(row, 0n), isNew: true });
    const other = await openUpload(scope, input.uploadId);
    return other.ok ? goOn(scope, other.value, announced) : reusedId;
  });
}

const reusedId = refuse(
  'id_reused',
  'This upload’s id was already used for another file. Send it under a new id.',
  'upload_id',
);

async function goOn(
  scope: Scope,
  upload: UploadRow,
  announced: Pick<UploadRow, 'bytes' | 'sha256' | 'mediaType'>,
): Promise<Result<UploadView & { readonly isNew: boolean }>> {
  const same = upload.personId === scope.actor.personId && sameContent(upload, announced);
  return same ? ok({ ...(await viewUpload(scope, upload)), isNew: false }) : reusedId;
}

function checkFile({ bytes, mediaType }: BeginUploadInput, limits: UploadLimits): Result<true> {
  const inMegabytes = (count: number) => `${Math.floor(count / 100_000) / 10} MB`;
  if (uploadKind(mediaType) === 'recording')
    return bytes <= limits.recordingBytesMax
      ? ok(true)
      : refuse(
          'recording_too_large',
          `The recording is larger than ${inMegabytes(limits.recordingBytesMax)}. Record a shorter one.`,
          'bytes',
        );
  if (/^image\/hei[cf]/.test(mediaType)) return refuse('photo_not_an_image', adviceForHeic, 'media_type');
  if (!/^image\/(jpeg|png|webp)$/.test(mediaType))
    return refuse(
      'photo_not_an_image',
      'Send a photo as image/jpeg, image/png or image/webp, or a recording as video/… or audio/….',
      'media_type',
    );
  return bytes <= limits.photoBytesMax
    ? ok(true)
    : refuse(
        'photo_too_large',
        `The photo is larger than ${inMegabytes(limits.photoBytesMax)}. Send a smaller one.`,
        'bytes',
      );
}

async function checkRoom(scope: Scope, bytes: bigint): Promise<Result<true>> {
  const open = await countOpenUploads(scope.tx, scope.actor.personId);
  if (open.count < openUploadsMax && open.bytes + bytes <= openBytesMax) return ok(true);
  return refuse(
    'too_many_uploads',
    `${open.count} of your uploads are not finished yet. Let these finish before you begin more; what nobody goes on with for a week is forgotten.`,
    'upload_id',
  );
}
