import {
  listMails,
  type MailList,
  openMailAttachment,
  readMail,
  resendMail,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import {
  attachmentParams,
  mailAnswer,
  mailParams,
  mailsAnswer,
  mailsQuery,
  queuedAnswer,
} from './schemas.ts';

const tags = ['Mail'];

export const mailRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/mails',
    {
      schema: {
        summary: 'List outgoing mail, latest first',
        tags,
        querystring: mailsQuery,
        response: { 200: mailsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const list = unwrap(await listMails(services, actorOf(request), request.query.before ?? null));
      return { mails: list.rows.map(answerHead), next: list.next };
    },
  );
  app.get(
    '/mails/:id',
    {
      schema: {
        summary: 'Read an outgoing mail',
        tags,
        params: mailParams,
        response: { 200: mailAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const mail = unwrap(await readMail(services, actorOf(request), request.params.id));
      const attachments = mail.attachments.map(({ position, fileName }) => ({
        position,
        file_name: fileName,
      }));
      return { ...answerHead(mail), text: mail.body, attachments };
    },
  );
  app.get(
    '/mails/:id/attachments/:position',
    {
      schema: {
        summary: 'What was attached to a mail',
        tags,
        params: attachmentParams,
        response: { 200: z.string().meta({ description: 'The file itself.' }), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: mailId, position } = request.params;
      return sendFile(
        reply,
        unwrap(await openMailAttachment(services, actorOf(request), { mailId, position })),
      );
    },
  );
  app.post(
    '/mails/:id/resend',
    {
      schema: {
        summary: 'Try a mail again that did not go out',
        tags,
        params: mailParams,
        response: { 202: queuedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) =>
      reply.code(202).send({ id: unwrap(await resendMail(services, actorOf(request), request.params.id)) }),
  );
};

function answerHead(mail: Omit<MailList['rows'][number], 'accountName'>) {
  return {
    id: mail.id,
    account_id: mail.accountId,
    about_id: mail.aboutId,
    from: mail.senderName,
    reply_to: mail.replyTo,
    to: [...mail.recipients],
    subject: mail.subjectLine,
    state: mail.state,
    tries: mail.tries,
    problem: mail.problem,
    queued_at: mail.queuedAt,
  };
}
