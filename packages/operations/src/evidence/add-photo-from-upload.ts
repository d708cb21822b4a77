import { ok, type Result, type UploadId } from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import { withReason } from '../photo-checks/keep-in-spite.ts';
import type { Services } from '../services.ts';
import { takeUpload, useUpload } from '../uploads/take-upload.ts';
import { openUpload } from '../uploads/upload-view.ts';
import {
  type AddedPhoto,
  checkPlace,
  type PhotoPlace,
  type PhotoToAdd,
  readPlace,
  sameAgain,
  writePhoto,
} from './add-photo.ts';
import { keepReceived } from './receive-photo.ts';

export interface AddPhotoFromUploadInput extends PhotoToAdd {
  /** A finished upload of whoever adds the photo. */
  readonly uploadId: UploadId;
  /** For the file while it is put together, on the file system of the object store. */
  readonly directory: string;
}

/**
 * As `addPhoto`, for a photo that came in parts. Sent again, it answers as the first time, though the parts are gone by
 * then. Refuses as `addPhoto` and `takeUpload` do.
 */
export async function addPhotoFromUpload(
  services: Services,
  actor: Actor,
  input: AddPhotoFromUploadInput,
): Promise<Result<AddedPhoto>> {
  const read = readPlace(input);
  if (!read.ok) return read;
  const place = read.value;
  const { uploadId, directory } = input;
  const earlier = await performAsStaff(services, actor, 'write_up', (scope) =>
    findEarlier(scope, place, input),
  );
  if (!earlier.ok) return earlier;
  if (earlier.value !== null) return ok(earlier.value);
  return takeUpload(services, actor, { uploadId, kind: 'photo', directory }, async (file) => {
    const kept = await keepReceived(services.objects, actor.tenantId, file);
    if (!kept.ok) return kept;
    return performAsStaff(services, actor, 'write_up', async (scope) => {
      const added = await writePhoto(scope, place, kept.value);
      const written = await withReason(scope, added, input.overrideReason);
      if (!written.ok) return written;
      const used = await useUpload(scope, uploadId, place.photoId);
      return used.ok ? written : used;
    });
  });
}

/** The answer of the first time, if there was one. */
async function findEarlier(
  scope: Scope,
  place: PhotoPlace,
  { uploadId, overrideReason }: Pick<AddPhotoFromUploadInput, 'uploadId' | 'overrideReason'>,
): Promise<Result<AddedPhoto | null>> {
  const checked = await checkPlace(scope, place);
  if (!checked.ok) return checked;
  if (checked.value === null) return ok(null);
  const upload = await openUpload(scope, uploadId);
  if (!upload.ok) return upload;
  const found = await sameAgain(scope, checked.value, place, upload.value);
  const same = await withReason(scope, found, overrideReason);
  if (!same.ok) return same;
  const used = await useUpload(scope, uploadId, place.photoId);
  return used.ok ? same : used;
}
