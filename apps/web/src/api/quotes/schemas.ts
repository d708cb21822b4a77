import type { QuoteId } from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText, momentText } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { amounts, part, quoteAnswer, replacementAnswer, side } from './quote-schemas.ts';

export const quoteParams = workOrderParams.extend({ quote_id: idOf<QuoteId>('quote') });

const typed = (lettersMax: number, description: string) =>
  z.string().max(lettersMax).default('').meta({ description });

export const giveQuoteBody = z.object({
  id: idOf<QuoteId>('quote'),
  part: part.or(z.literal('')).default('').meta({
    description: 'The damaged part it is for; empty: one sum for all damaged parts together.',
  }),
  side: side.or(z.literal('')).default(''),
  amount: typed(
    24,
    'What it costs, fitted, before tax, like "940.00"; or the three that follow, which add up.',
  ),
  part_price: typed(24, 'The part, like "742.00".'),
  fitting_hours: typed(24, 'Hours to fit it, like "1.2".'),
  hourly_rate: typed(24, 'What an hour of fitting costs, like "165.00".'),
  note: typed(2000, 'Who quoted it and what it is made of.'),
  taken_from: idOf<QuoteId>('last quote for this part and kind of vehicle, taken instead of an amount')
    .nullable()
    .default(null),
});

export const quotesAnswer = z.object({
  work_order_id: idText,
  currency: z.string(),
  open: z.boolean().meta({ description: 'False once the work was accepted.' }),
  replacement: replacementAnswer,
  quotes: z.array(quoteAnswer),
  parts: z.array(
    z.object({
      part,
      side: side.nullable(),
      words: z.string(),
      quote_id: idText.nullable(),
      last: z
        .object({
          id: idText,
          side: side.nullable(),
          ...amounts,
          note: z.string(),
          given_at: momentText,
          work_order_id: idText,
          number: z.string(),
          model_year: z.int().nullable(),
        })
        .nullable()
        .meta({ description: 'What the part cost the last time, for this make and model.' }),
    }),
  ),
});
