import { mailStatement, openStatementPdf, readFrozenStatement, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { mailBody, queuedMailAnswer, statementParams } from './schemas.ts';

const tags = ['Statements'];

/** What there is of a statement once it was issued. */
export const issuedStatementRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/accounts/:id/statements/:month.pdf',
    {
      schema: {
        summary: 'An account’s statement of a month as it was issued, as PDF',
        tags,
        params: statementParams,
        produces: ['application/pdf'],
        response: { 200: z.string().meta({ description: 'Always the same bytes.' }), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, month } = request.params;
      return sendFile(
        reply,
        unwrap(await openStatementPdf(services, actorOf(request), { accountId, month })),
      );
    },
  );
  app.get(
    '/accounts/:id/statements/:month/content',
    {
      schema: {
        summary: 'What was frozen of a statement: the text that its digest is of',
        description: 'Canonical JSON (RFC 8785); its SHA-256 is the statement’s digest.',
        tags,
        params: statementParams,
        response: { 200: z.string().meta({ description: 'Canonical JSON.' }), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, month } = request.params;
      const { content } = unwrap(await readFrozenStatement(services, actorOf(request), { accountId, month }));
      return sendFile(reply, {
        fileName: `statement-${month}.json`,
        mediaType: 'application/json',
        text: content,
      });
    },
  );
  app.post(
    '/accounts/:id/statements/:month/mail',
    {
      schema: {
        summary: 'Mail a statement that was issued',
        description: 'To the account’s address for statements or, where it has none, to its payers.',
        tags,
        params: statementParams,
        body: mailBody,
        response: { 202: queuedMailAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, month } = request.params;
      const input = { accountId, month, mailId: request.body.id };
      return reply.code(202).send({ id: unwrap(await mailStatement(services, actorOf(request), input)) });
    },
  );
};
