import { giveQuote, readQuotes, type Services, takeQuoteBack } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerWorkOrder } from '../work-orders/answers.ts';
import { workOrderAnswer, workOrderParams } from '../work-orders/schemas.ts';
import { answerQuotes } from './answers.ts';
import { giveQuoteBody, quoteParams, quotesAnswer } from './schemas.ts';

const tags = ['Work orders'];

/** What a new part would cost instead, part by part. */
export const quoteRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders/:id/quotes',
    {
      schema: {
        summary: 'Read what new parts would cost, and what they cost the last time',
        tags,
        params: workOrderParams,
        response: { 200: quotesAnswer, ...problemAnswer },
      },
    },
    async (request) => answerQuotes(unwrap(await readQuotes(services, actorOf(request), request.params.id))),
  );
  app.post(
    '/work-orders/:id/quotes',
    {
      schema: {
        summary: 'Give a quote for a new part, fitted',
        description: 'It takes the place of the quote for the same part.',
        tags,
        params: workOrderParams,
        body: giveQuoteBody,
        response: { 201: workOrderAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, part, side, amount, note, part_price, fitting_hours, hourly_rate, taken_from } =
        request.body;
      const given = await giveQuote(services, actorOf(request), {
        id,
        workOrderId: request.params.id,
        part,
        side,
        amount,
        partPrice: part_price,
        fittingHours: fitting_hours,
        hourlyRate: hourly_rate,
        note,
        takenFromId: taken_from,
      });
      return reply.code(201).send(answerWorkOrder(unwrap(given)));
    },
  );
  app.delete(
    '/work-orders/:id/quotes/:quote_id',
    {
      schema: {
        summary: 'Take a quote back',
        tags,
        params: quoteParams,
        response: { 200: workOrderAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { id: workOrderId, quote_id: quoteId } = request.params;
      return answerWorkOrder(
        unwrap(await takeQuoteBack(services, actorOf(request), { workOrderId, quoteId })),
      );
    },
  );
};
