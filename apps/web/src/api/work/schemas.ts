import { type LineId, type PhotoId, type PhotoOverrideId, workOrderStates } from '@grainwright/domain';
import { z } from 'zod';
import { certificateWarningAnswer, idOf, idText, wordsOf } from '../schemas.ts';

const lampSeen = z
  .enum(['', 'on', 'off'])
  .default('')
  .meta({ description: 'The airbag lamp as the vehicle comes or leaves; empty where nobody looked.' });
const state = z.enum(wordsOf(workOrderStates));

export const cautionsQuery = z.object({
  circumstances: z.string().max(200).default('').meta({
    description:
      'What was noticed at the vehicle, with commas between: airbag_lamp_on, high_voltage_cables, hot_day.',
  }),
});

const caution = z.object({ code: z.string(), sentence: z.string() });

export const cautionsAnswer = z.object({
  lines: z.array(z.string()),
  cautions: z.array(caution),
  certificate_warning: certificateWarningAnswer,
  missing_photos: z
    .array(z.string())
    .meta({ description: 'What has to be photographed before the work starts, in words.' }),
  blocked_seam: z.object({ line_id: idText, words: z.string() }).nullable().meta({
    description:
      'The first line whose seam may cover a side airbag, until the owner of the business releases that line.',
  }),
});

export const startBody = z.object({
  id: idOf('start'),
  acknowledge: z
    .array(z.string().max(60))
    .max(50)
    .meta({ description: 'Codes of the cautions that were read.' }),
  circumstances: z.array(z.string().max(60)).max(10).default([]),
  airbag_lamp: lampSeen,
});

export const releaseBody = z.object({ line_id: idOf<LineId>('line'), reason: z.string().max(2000) });

export const finishBody = z.object({
  work: z
    .array(
      z.object({
        line_id: idOf<LineId>('line'),
        methods: z.array(z.string().max(60)).max(40),
        layers: z.string().max(10).default(''),
      }),
    )
    .max(200)
    .default([])
    .meta({ description: 'How lines were worked; a line left out stays as written up.' }),
  overrides: z
    .array(
      z.object({
        code: z.string().max(60),
        line_id: idOf<LineId>('line').nullable(),
        reason: z.string().max(2000),
      }),
    )
    .max(200)
    .default([]),
  photo_reasons: z
    .array(
      z.object({
        override_id: idOf<PhotoOverrideId>('override'),
        photo_id: idOf<PhotoId>('photo'),
        reason: z.string().max(2000),
      }),
    )
    .max(200)
    .default([])
    .meta({ description: 'Why photos are kept in spite of what is said against them.' }),
  technician_minutes: z
    .union([z.int(), z.string().max(10)])
    .default('')
    .meta({ description: 'Whole minutes.' }),
  materials_cost: z
    .string()
    .max(24)
    .default('')
    .meta({ description: 'What the materials cost, like "6.40".' }),
  airbag_lamp: lampSeen,
});

export const reviewAnswer = z.object({
  missing_photos: z.array(z.string()),
  photo_warnings: z
    .array(z.object({ photo_id: idText, shows: z.string(), sentences: z.array(z.string()) }))
    .meta({ description: 'Of photos that were neither taken again nor kept with a reason.' }),
  contradictions: z.array(
    z.object({
      code: z.string(),
      line_id: idText.nullable(),
      sentence: z.string(),
      weight: z.enum(['mend', 'reason', 'ask']).meta({
        description:
          '“mend”: no reason helps. “reason”: mend it, or override it with a reason. “ask”: is that right?',
      }),
    }),
  ),
  hand_over: z.array(caution),
});

export const stateAnswer = z.object({ state });
