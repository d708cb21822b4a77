import { formatMinor } from '@grainwright/domain';
import {
  type ClearingMovementView,
  readClearing,
  recordPayout,
  recordProcessorFee,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { clearingAnswer, clearingBody, clearingMovementAnswer, clearingQuery } from './schemas.ts';

const tags = ['Receipts'];

/** Card payments between their processor and the bank. */
export const clearingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/clearing',
    {
      schema: {
        summary: 'Show what the processor of card payments has to pay out, and what it did',
        tags,
        querystring: clearingQuery,
        response: { 200: clearingAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { past = null } = request.query;
      const view = unwrap(await readClearing(services, actorOf(request), { past }));
      const { currency, next } = view;
      return {
        there: formatMinor(view.thereMinor, currency),
        currency,
        movements: view.rows.map(answerMovement),
        next,
      };
    },
  );
  const record = { fees: recordProcessorFee, payouts: recordPayout } as const;
  for (const kind of ['fees', 'payouts'] as const)
    app.post(
      `/clearing/${kind}`,
      {
        schema: {
          summary: kind === 'fees' ? 'Record what the processor kept' : 'Record what the processor paid out',
          tags,
          body: clearingBody,
          response: { 201: clearingMovementAnswer, ...problemAnswer },
        },
      },
      async (request, reply) => {
        const { id: movementId, ...body } = request.body;
        const actor = actorOf(request);
        const moved = unwrap(await record[kind](services, actor, { movementId, ...body }));
        return reply.code(201).send(answerMovement(moved));
      },
    );
};

function answerMovement(view: ClearingMovementView): z.input<typeof clearingMovementAnswer> {
  const { id, kind, amountMinor, currency, occurredOn, reference } = view;
  return { id, kind, amount: formatMinor(amountMinor, currency), on: occurredOn, reference };
}
