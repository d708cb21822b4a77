import { type NewsView, newsKinds } from '@grainwright/operations';
import { z } from 'zod';
import { idText, momentText } from '../schemas.ts';

export const newsQuery = z.object({
  since: z
    .string()
    .max(40)
    .optional()
    .meta({ description: 'A moment; `until` of the answer before. At most seven days back.' }),
});

export const newsItem = z
  .object({
    id: idText.meta({ description: 'The same news has the same id, and may be told twice.' }),
    at: momentText,
    kind: z.enum(newsKinds),
    work_order_id: idText,
    work_order_number: z.string(),
    vehicle: z.string(),
    words: z.string(),
  })
  .meta({ id: 'News' });

export const newsAnswer = z.object({ news: z.array(newsItem), until: momentText });

export function answerNews(news: NewsView): z.input<typeof newsItem> {
  const { id, at, kind, workOrderId, number, vehicle, words } = news;
  return { id, at, kind, work_order_id: workOrderId, work_order_number: number.toString(), vehicle, words };
}
