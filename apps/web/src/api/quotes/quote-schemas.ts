import { partPositions, vehicleParts } from '@grainwright/domain';
import { z } from 'zod';
import { decimalText, idText, momentText, moneyText, wordsOf } from '../schemas.ts';

export const part = z.enum(wordsOf(vehicleParts));
export const side = z.enum(wordsOf(partPositions));
export const amounts = {
  amount: moneyText,
  part_price: moneyText.nullable(),
  fitting_hours: decimalText.nullable(),
  hourly_rate: moneyText.nullable(),
};

export const quoteAnswer = z.object({
  id: idText,
  part: part.nullable().meta({ description: 'Null: one sum for all damaged parts together.' }),
  side: side.nullable(),
  words: z.string(),
  ...amounts,
  note: z.string(),
  origin: z.enum(['typed', 'last_time']),
  taken_from: z
    .object({ work_order_id: idText, number: z.string(), given_at: momentText })
    .nullable()
    .meta({ description: 'Whose quote it repeats; for the staff only.' }),
  given_at: momentText,
  counts: z.boolean().meta({
    description: 'Whether it stands against the repair: not where its part was declined or taken away.',
  }),
});

export const replacementAnswer = z
  .object({
    amount: moneyText.meta({ description: 'The sum of the quotes that count, fitted, before tax.' }),
    note: z.string(),
    unquoted: z.array(z.string()).meta({ description: 'Repaired parts that nothing is quoted for.' }),
  })
  .nullable();
