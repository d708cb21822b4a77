import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { UploadId } from '@grainwright/domain';
import { addUploadPart, beginUpload } from '@grainwright/operations';
import { aJpeg } from '../support/work-in-hand.ts';
import { type Account, must } from '../support/world.ts';
import { announcedBytes } from './upload-requests.ts';

/** Two files on their way in from the owner’s phone: one announced, of the other every byte. */
export async function tellUploads({ business }: Account) {
  const { world, owner } = business;
  const limits = { photoBytesMax: 1_000_000, recordingBytesMax: 1_000_000 };
  const begin = async (bytes: number, sha256: string) => {
    const uploadId = world.newId<UploadId>();
    must(
      await beginUpload(world.services, owner, { uploadId, bytes, sha256, mediaType: 'image/jpeg' }, limits),
    );
    return uploadId;
  };
  const whole = await aJpeg();
  const sha256 = createHash('sha256').update(whole).digest('hex');
  const finishedUpload = await begin(whole.length, sha256);
  const part = { uploadId: finishedUpload, offset: 0, sha256, stream: Readable.from([whole]) };
  must(await addUploadPart(world.services, owner, { ...part, directory: world.objects.temporaryDirectory }));
  const announced = createHash('sha256').update(world.newId()).digest('hex');
  return { begunUpload: await begin(announcedBytes, announced), finishedUpload };
}
