import type { LineId, PhotoId } from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText } from '../schemas.ts';

export const photoParams = z.object({ id: idOf<PhotoId>('photo') });

/** The fields of the multipart form, which come before its file. */
export const photoFields = z.object({
  photo_id: idOf<PhotoId>('photo'),
  line_id: z.union([z.literal(''), idOf<LineId>('line')]),
  purpose: z.string().max(40),
});

export const addedPhotoAnswer = z.object({
  id: idText,
  sha256: z.string(),
  warnings: z.array(z.string()).meta({ description: 'For the technician, who is still beside the vehicle.' }),
});
