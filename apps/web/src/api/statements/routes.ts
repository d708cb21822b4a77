import { exportStatement, listStatements, readStatement, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerStatement, answerStatements } from './answers.ts';
import { accountParams, statementAnswer, statementParams, statementsAnswer } from './schemas.ts';

const tags = ['Statements'];

export const statementRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/accounts/:id/statements',
    {
      schema: {
        summary: 'The months of an account with their figures, latest first',
        tags,
        params: accountParams,
        response: { 200: statementsAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerStatements(unwrap(await listStatements(services, actorOf(request), request.params.id))),
  );
  app.get(
    '/accounts/:id/statements/:month',
    {
      schema: {
        summary: 'An account’s statement of a month',
        description: 'JSON, or with “Accept: text/csv” the same figures as CSV.',
        tags,
        params: statementParams,
        response: { 200: statementAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, month } = request.params;
      reply.header('vary', 'accept');
      if (/\btext\/csv\b/.test(request.headers.accept ?? ''))
        return sendFile(
          reply,
          unwrap(await exportStatement(services, actorOf(request), { accountId, month })),
        );
      return answerStatement(unwrap(await readStatement(services, actorOf(request), { accountId, month })));
    },
  );
  app.get(
    '/accounts/:id/statements/:month.csv',
    {
      schema: {
        summary: 'An account’s statement of a month as CSV',
        tags,
        params: statementParams,
        produces: ['text/csv'],
        response: { 200: z.string().meta({ description: 'RFC 4180, with a header row.' }), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, month } = request.params;
      return sendFile(reply, unwrap(await exportStatement(services, actorOf(request), { accountId, month })));
    },
  );
};
