import type { LineId } from '@grainwright/domain';
import { z } from 'zod';
import { idOf } from '../schemas.ts';
import { damage, material, observation, part, side } from './schemas.ts';

export const repeatBody = z.object({
  id: idOf<LineId>('new line'),
  another_damage: z.boolean().default(false),
  observation: observation.optional().meta({
    description:
      'What was found on this vehicle. Needed where the repeated line was told by a heat test: that is made at each vehicle.',
  }),
  looks_like: material.or(z.literal('')).default(''),
  measured_inches: z
    .string()
    .max(20)
    .optional()
    .meta({ description: 'As measured here; the size of the repeated line where it is left out.' }),
});

export const toRepeatAnswer = z.object({
  line: z
    .object({
      words: z.string(),
      work_order_number: z.string(),
      asks: z
        .enum(['heat_test', 'size'])
        .nullable()
        .meta({ description: 'What is to be tested or measured at this vehicle first.' }),
    })
    .nullable()
    .meta({ description: 'Null where you wrote none on this visit yet.' }),
});

export const proposalQuery = z.object({
  part,
  side: side.or(z.literal('')).default(''),
  damage,
  observation: observation.or(z.literal('')).default(''),
  looks_like: material.or(z.literal('')).default(''),
});

export const proposalAnswer = z.object({
  family: z.string().meta({ description: 'As it was repaired last; empty where it never was.' }),
  methods: z.array(z.string()),
});
