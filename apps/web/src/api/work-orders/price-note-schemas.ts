import type { LineId } from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText, momentText, moneyText } from '../schemas.ts';

export const pricedByHand = z.array(
  z.object({
    line_id: idText,
    reason: z.string(),
    by: z.string().nullable().meta({ description: 'Who, by name; null where that is not known.' }),
  }),
);

export const priceNotes = z
  .object({
    priced_by_hand: pricedByHand,
    floored: z
      .array(
        z.object({
          line_id: idText,
          price: moneyText.meta({ description: 'Before further repairs.' }),
          floor: moneyText,
          refused: z.string().nullable().meta({ description: 'Why it can’t be sent as it is.' }),
        }),
      )
      .meta({ description: 'Lines with a floor, while something can still be sent.' }),
    consents: z.array(
      z.object({
        line_id: idText,
        price: moneyText,
        floor: moneyText,
        reason: z.string(),
        by: z.string(),
        at: momentText,
      }),
    ),
  })
  .meta({ description: 'The business’s own; contacts get empty lists.' });

export const floorConsentBody = z.object({
  line_id: idOf<LineId>('line'),
  price: moneyText.meta({ description: 'Before further repairs: the one it has, or one it shall get.' }),
  reason: z.string().max(2000),
});
