import { liftLegalHold, placeLegalHold, readLegalHolds, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerHolds, holdBody, holdEndBody, holdParams, holdsAnswer, madeAnswer } from './schemas.ts';

const tags = ['Retention'];

/** What must not be deleted, whatever the rules say. */
export const legalHoldRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/legal-holds',
    {
      schema: {
        summary: 'What must not be deleted, whatever the rules say',
        tags,
        response: { 200: holdsAnswer, ...problemAnswer },
      },
    },
    async (request) => answerHolds(unwrap(await readLegalHolds(services, actorOf(request)))),
  );

  app.post(
    '/legal-holds',
    {
      schema: {
        summary: 'Keep everything of a work order or an account from being deleted',
        tags,
        body: holdBody,
        response: { 201: madeAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, work_order_id: workOrderId, account_id: accountId, reason } = request.body;
      const input = { id, workOrderId, accountId, reason };
      return reply.code(201).send({ id: unwrap(await placeLegalHold(services, actorOf(request), input)) });
    },
  );

  app.post(
    '/legal-holds/:id/end',
    {
      schema: {
        summary: 'Lift a legal hold (owner of the business only)',
        tags,
        params: holdParams,
        body: holdEndBody,
        response: { 200: madeAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { id: request.params.id, reason: request.body.reason };
      return { id: unwrap(await liftLegalHold(services, actorOf(request), input)) };
    },
  );
};
