import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { PhotoOverrideId, RecordingId, UploadId } from '@grainwright/domain';
import { addRecording, addUploadPart, beginUpload, keepInSpite } from '@grainwright/operations';
import { aJpeg, photographed } from '../support/work-in-hand.ts';
import { type Account, must } from '../support/world.ts';
import { emptyFilm } from './recording-requests.ts';
import type { ToldWork } from './told-work.ts';

/** A recording with its poster, one more film on its way in, and the reason why a photo is kept. */
export async function tellRecordings(account: Account, { workOrder: workOrderId, line }: ToldWork) {
  const { business } = account;
  const { world, owner } = business;
  const directory = world.objects.temporaryDirectory;
  const recording = world.newId<RecordingId>();
  must(
    await addRecording(world.services, owner, {
      recordingId: recording,
      workOrderId,
      capturedAt: null,
      seconds: 12,
      poster: await aJpeg(),
      film: { stream: Readable.from([Buffer.from(emptyFilm)]), truncated: () => false, bytesMax: 1000 },
      directory,
    }),
  );
  const photoOverride = world.newId<PhotoOverrideId>();
  const reason = 'nothing else to see';
  const photoId = await photographed(account, workOrderId, line, 'progress');
  must(await keepInSpite(world.services, owner, { overrideId: photoOverride, photoId, reason }));
  return { recording, photoOverride, checkedPhoto: photoId, filmUpload: await uploadedFilm(business) };
}

async function uploadedFilm({ world, owner }: Account['business']): Promise<UploadId> {
  const uploadId = world.newId<UploadId>();
  const bytes = Buffer.from(emptyFilm);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const announced = { uploadId, bytes: bytes.length, sha256, mediaType: 'video/mp4' };
  const limits = { photoBytesMax: 1000, recordingBytesMax: 1000 };
  must(await beginUpload(world.services, owner, announced, limits));
  const part = { uploadId, offset: 0, sha256, stream: Readable.from([bytes]) };
  must(await addUploadPart(world.services, owner, { ...part, directory: world.objects.temporaryDirectory }));
  return uploadId;
}
