import type { RecordingId, UploadId } from '@grainwright/domain';
import { z } from 'zod';
import { momentByDevice } from '../photos/schemas.ts';
import { idOf, idText } from '../schemas.ts';

export const recordingParams = z.object({ id: idOf<RecordingId>('recording') });

export const recordingFromUploadBody = z.object({
  recording_id: idOf<RecordingId>('recording'),
  upload_id: idOf<UploadId>('upload'),
  captured_at: momentByDevice.nullish(),
  seconds: z
    .int()
    .min(0)
    .max(36_000)
    .nullish()
    .meta({ description: 'How long it is, as the phone counted.' }),
  poster: z
    .base64({ error: 'Send the picture as base64.' })
    .max(400_000)
    .nullish()
    .meta({ description: 'A small picture that stands for it: JPEG, PNG or WebP as base64.' }),
});

export const addedRecordingAnswer = z.object({
  id: idText,
  sha256: z.string(),
  names_place: z.boolean().meta({
    description: 'It says where it was recorded: accounts get its picture and digest, the staff the file.',
  }),
});
