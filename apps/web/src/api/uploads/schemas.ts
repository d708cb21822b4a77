import type { UploadId } from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText, problemDetails } from '../schemas.ts';

export const uploadParams = z.object({ id: idOf<UploadId>('upload') });

export const uploadBody = z.object({
  upload_id: idOf<UploadId>('upload'),
  bytes: z.int().min(1, 'This is an empty file.').meta({ description: 'Of the whole file.' }),
  sha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/, 'Write the SHA-256 as 64 lower-case hexadecimal digits.')
    .meta({ description: 'Of the whole file, lower-case hex.' }),
  media_type: z.string().min(3).max(100).meta({ description: 'As image/jpeg or video/webm.' }),
});

export const uploadAnswer = z.object({
  upload_id: idText,
  bytes: z.int(),
  offset: z.int().meta({ description: 'So many bytes are held: where the next part begins.' }),
  part_bytes_max: z.int(),
  complete: z.boolean(),
});

export const elsewhereAnswer = problemDetails
  .extend({ offset: z.int().optional().meta({ description: 'Where the upload goes on.' }) })
  .meta({ description: 'Problem details, RFC 9457, with the offset to go on from.' });
