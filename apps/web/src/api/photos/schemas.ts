import {
  instant,
  type LineId,
  type PhotoId,
  type PhotoOverrideId,
  photoWarningCodes,
  type UploadId,
} from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText } from '../schemas.ts';

export const photoParams = z.object({ id: idOf<PhotoId>('photo') });

export const momentByDevice = z.iso
  .datetime({ offset: true, error: 'Write a moment with its offset, like 2026-08-05T14:03:09-05:00.' })
  .max(40)
  .transform((text) => instant(text))
  .meta({ description: 'When the device says that it was taken, with the offset of its clock.' });

const overrideReason = z
  .string()
  .max(2000)
  .meta({ description: 'Why it is kept in spite of a warning; left alone where there is none.' });

/** The fields of the multipart form, which come before its file. */
export const photoFields = z.object({
  photo_id: idOf<PhotoId>('photo'),
  line_id: z.union([z.literal(''), idOf<LineId>('line')]),
  purpose: z.string().max(40),
  captured_at: z.union([z.literal(''), momentByDevice]),
  retake_of: z.union([z.literal(''), idOf<PhotoId>('photo that this one was taken instead of')]),
  override_reason: overrideReason,
});

export const photoFromUploadBody = z.object({
  photo_id: idOf<PhotoId>('photo'),
  upload_id: idOf<UploadId>('upload'),
  purpose: z.string().max(40),
  line_id: idOf<LineId>('line').nullable(),
  captured_at: momentByDevice.nullish(),
  retake_of: idOf<PhotoId>('photo that this one was taken instead of').nullish(),
  override_reason: overrideReason.nullish(),
});

export const photoOverrideBody = z.object({
  override_id: idOf<PhotoOverrideId>('override'),
  reason: z.string().max(2000),
});

export const addedPhotoAnswer = z.object({
  id: idText,
  sha256: z.string(),
  warnings: z.array(z.object({ code: z.enum(photoWarningCodes), sentence: z.string() })).meta({
    description: 'For the technician, who is still beside the vehicle; the photo is kept all the same.',
  }),
});

export const photoOverrideAnswer = z.object({ reason: z.string() });
