import { photoPurposes } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idText, momentText, wordsOf } from '../schemas.ts';

/** A photo of a work order, as everybody who sees the work order reads it. */
export const photo = z.object({
  id: idText,
  line_id: idText.nullable(),
  purpose: z.enum(wordsOf(photoPurposes)),
  sha256: z.string(),
  width: z.int(),
  height: z.int(),
  taken_at_local: z.string().nullable(),
  received_at: momentText,
  retake_of: idText.nullable().meta({ description: 'The photo that this one was taken instead of.' }),
  taken_again: z
    .object({ by: idText, noticed: z.array(z.string()) })
    .nullable()
    .meta({ description: 'The photo that was taken instead, and what was noticed of this one.' }),
  ready: z.boolean(),
  covered_on: dayText
    .nullable()
    .meta({ description: 'Since when parts of it are covered for everybody but the staff.' }),
  deleted_on: dayText.nullable().meta({ description: 'When a rule let go of its bytes; the digest stays.' }),
});
