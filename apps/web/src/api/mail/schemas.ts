import type { MailId } from '@grainwright/domain';
import { mailStates } from '@grainwright/operations';
import { z } from 'zod';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';

export const mailParams = z.object({ id: idOf<MailId>('mail') });
export const attachmentParams = mailParams.extend({ position: z.coerce.number().int().min(1).max(100) });
export const mailsQuery = z.object({
  before: idOf<MailId>('mail').optional().meta({ description: 'The `next` of the page before.' }),
});

const head = {
  id: idText,
  account_id: idText.nullable(),
  about_id: idText,
  from: z.string(),
  reply_to: z.string(),
  to: z.array(z.string()),
  subject: z.string(),
  state: z
    .enum(wordsOf(mailStates))
    .meta({ description: '“kept”: no mail server is named, so it stays in the mailbox.' }),
  tries: z.int(),
  problem: z.string(),
  queued_at: momentText,
};

export const mailAnswer = z
  .object({
    ...head,
    text: z.string(),
    attachments: z.array(z.object({ position: z.int(), file_name: z.string() })),
  })
  .meta({ id: 'Mail' });

export const mailsAnswer = z.object({ mails: z.array(z.object(head)), next: idText.nullable() });
export const queuedAnswer = z.object({ id: idText });
