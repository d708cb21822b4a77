import type { MessageId } from '@grainwright/domain';
import type { MessageView } from '@grainwright/operations';
import { z } from 'zod';
import { idOf, idText, momentText } from '../schemas.ts';

export const messagesAnswer = z
  .array(
    z.object({
      id: idText,
      side: z.enum(['account', 'business']),
      author: z.string(),
      text: z.string(),
      written_at: momentText,
    }),
  )
  .meta({ description: 'Questions and answers between the account and the business, the first one first.' });

export function answerMessages(messages: readonly MessageView[]): z.infer<typeof messagesAnswer> {
  return messages.map(({ id, side, author, text, writtenAt }) => ({
    id,
    side,
    author,
    text,
    written_at: writtenAt,
  }));
}

export const messageBody = z.object({
  id: idOf<MessageId>('message'),
  text: z.string().max(5000).meta({ description: '2,000 characters at most.' }),
});

export const writtenAnswer = z.object({ id: idText });
