import { proposeRepair, readLineToRepeat, repeatLine, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerWorkOrder } from './answers.ts';
import { proposalAnswer, proposalQuery, repeatBody, toRepeatAnswer } from './repeat-schemas.ts';
import { workOrderAnswer, workOrderParams } from './schemas.ts';

const tags = ['Work orders'];

/** What makes the lines of a row of vehicles quick: the last one once more, and how a damage is usually repaired. */
export const repeatRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/lines/repeat',
    {
      schema: {
        summary: 'Write the line that you wrote last on this visit once more',
        description:
          'Without its photos, its note and a price by hand; the measured size is to be looked at. What a heat test showed is not repeated: make the test here and send its observation.',
        tags,
        params: workOrderParams,
        body: repeatBody,
        response: { 201: workOrderAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: lineId, another_damage: anotherDamage, observation, looks_like: looksLike } = request.body;
      const found = observation === undefined ? undefined : { observation, looksLike };
      const measured = { measuredInches: request.body.measured_inches };
      const input = { workOrderId: request.params.id, lineId, anotherDamage, found, ...measured };
      const repeated = unwrap(await repeatLine(services, actorOf(request), input));
      return reply.code(201).send(answerWorkOrder(repeated));
    },
  );
  app.get(
    '/work-orders/:id/lines/repeat',
    {
      schema: {
        summary: 'The line that would be repeated',
        tags,
        params: workOrderParams,
        response: { 200: toRepeatAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const last = unwrap(await readLineToRepeat(services, actorOf(request), request.params.id));
      if (last === null) return { line: null };
      const { words, workOrderNumber, asks } = last;
      return { line: { words, work_order_number: workOrderNumber.toString(), asks } };
    },
  );
  app.get(
    '/repair-proposal',
    {
      schema: {
        summary: 'How a damage was repaired here last',
        tags,
        querystring: proposalQuery,
        response: { 200: proposalAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { looks_like: looksLike, ...found } = request.query;
      const input = { ...found, looksLike, overruledMaterial: '', overruleReason: '' };
      const { family, methods } = unwrap(await proposeRepair(services, actorOf(request), input));
      return { family, methods: [...methods] };
    },
  );
};
