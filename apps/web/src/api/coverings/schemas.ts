import { type CoveringId, coveringKinds, type RecordingId } from '@grainwright/domain';
import type { PhotoCoverings } from '@grainwright/operations';
import { z } from 'zod';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';

const percent = z
  .number()
  .min(0)
  .max(100)
  .meta({ description: 'Of the upright picture’s width or height, in percent, to two decimals.' });

const region = z.object({
  kind: z.enum(wordsOf(coveringKinds)),
  left: percent,
  top: percent,
  width: percent,
  height: percent,
});

export const coveringBody = z.object({
  id: idOf<CoveringId>('covering'),
  regions: z.array(region).max(100),
  reason: z.string().max(2000),
});

export const turnBody = z.object({ id: idOf<CoveringId>('turn'), reason: z.string().max(2000) });

export const recordingParams = z.object({ id: idOf<RecordingId>('recording') });

export const madeAnswer = z.object({ id: idText });

export const coveringsAnswer = z.object({
  photo_id: idText,
  sha256: z.string().meta({ description: 'Of the original, which stays as it came.' }),
  coverings: z.array(
    z.object({
      id: idText,
      number: z.int(),
      regions: z.array(region).meta({ description: 'None: the covering was taken away.' }),
      reason: z.string(),
      made_by: z.string(),
      made_at: momentText,
      ready: z.boolean().meta({ description: 'Whether its copies are made.' }),
    }),
  ),
  answers: z
    .array(z.object({ what: z.enum(['decision', 'acceptance']), name: z.string(), at: momentText }))
    .meta({ description: 'Who approved or signed with this picture before them.' }),
});

export function answerCoverings(photo: PhotoCoverings): z.infer<typeof coveringsAnswer> {
  return {
    photo_id: photo.id,
    sha256: photo.sha256,
    coverings: photo.coverings.map(({ id, number, regions, reason, madeBy, madeAt, ready }) => ({
      ...{ id, number, reason, ready },
      regions: regions.map(({ kind, left, top, width, height }) => ({
        kind,
        left: left / 100,
        top: top / 100,
        width: width / 100,
        height: height / 100,
      })),
      made_by: madeBy,
      made_at: madeAt,
    })),
    answers: photo.answers.map(({ what, name, at }) => ({ what, name, at })),
  };
}
