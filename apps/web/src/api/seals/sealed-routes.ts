import { listSeals, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerSealed } from './answers.ts';
import { daysQuery, sealedAnswer } from './schemas.ts';

/** What was sealed, day by day. */
export const sealedRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/seals',
    {
      schema: {
        summary: 'What was sealed in a span of days, the newest first; for contacts what is of their account',
        tags: ['Seals'],
        querystring: daysQuery,
        response: { 200: sealedAnswer, ...problemAnswer },
      },
    },
    async (request) => answerSealed(unwrap(await listSeals(services, actorOf(request), request.query))),
  );
};
