import type { AccountId } from '@grainwright/domain';
import { checkHandedIn, listHandedIn, listHandedInToCheck, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { idOf, problemAnswer } from '../schemas.ts';
import { answerHandedIn } from './answers.ts';
import { checkBody, handedInAnswer, handedInListAnswer, handedInParams } from './schemas.ts';

const tags = ['Accounts'];

/** Certificates that accounts handed in, and what the business says to them. */
export const handedInRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/handed-in-certificates',
    {
      schema: {
        summary: 'Certificates that accounts handed in and nobody has checked',
        tags,
        response: { 200: handedInListAnswer, ...problemAnswer },
      },
    },
    async (request) => ({
      handed_in: unwrap(await listHandedInToCheck(services, actorOf(request))).map(answerHandedIn),
    }),
  );
  app.get(
    '/accounts/:id/handed-in-certificates',
    {
      schema: {
        summary: 'Certificates that an account handed in, the latest first',
        tags,
        params: z.object({ id: idOf<AccountId>('account') }),
        response: { 200: handedInListAnswer, ...problemAnswer },
      },
    },
    async (request) => ({
      handed_in: unwrap(await listHandedIn(services, actorOf(request), request.params.id)).map(
        answerHandedIn,
      ),
    }),
  );
  app.post(
    '/handed-in-certificates/:id/check',
    {
      schema: {
        summary: 'Confirm a certificate that an account handed in, or say why it is not taken',
        description: 'Confirmed, it is filed and counts by the date of work.',
        tags,
        params: handedInParams,
        body: checkBody,
        response: { 200: handedInAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { id: request.params.id, ...request.body };
      return answerHandedIn(unwrap(await checkHandedIn(services, actorOf(request), input)));
    },
  );
};
