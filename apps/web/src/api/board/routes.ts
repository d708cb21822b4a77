import { readBoard, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerBoard, boardAnswer, boardQuery } from './schemas.ts';

export const boardRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/board',
    {
      schema: {
        summary: 'Read the board',
        description:
          'Work that is not over, by what it waits for, the longest waiting first. Technicians see their own visits.',
        tags: ['Work orders'],
        querystring: boardQuery,
        response: { 200: boardAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId, technician_id: technicianId } = request.query;
      return answerBoard(unwrap(await readBoard(services, actorOf(request), { accountId, technicianId })));
    },
  );
};
