import {
  readInvoiceTrail,
  readStatementTrail,
  readWorkOrderTrail,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { invoiceParams } from '../invoices/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { statementParams } from '../statements/schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { answerTrail } from './answers.ts';
import { trailAnswer, trailQuery } from './schemas.ts';

const tags = ['Audit trail'];
const description =
  'The staff read all of it, an account what it may see of its own, out of a closed list of actions.';

/** Who did what. */
export const trailRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders/:id/trail',
    {
      schema: {
        summary: 'Who did what on a work order',
        description,
        tags,
        params: workOrderParams,
        querystring: trailQuery,
        response: { 200: trailAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerTrail(
        unwrap(
          await readWorkOrderTrail(services, actorOf(request), request.params.id, placeOf(request.query)),
        ),
      ),
  );
  app.get(
    '/invoices/:id/trail',
    {
      schema: {
        summary: 'Who did what on an invoice',
        description,
        tags,
        params: invoiceParams,
        querystring: trailQuery,
        response: { 200: trailAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerTrail(
        unwrap(await readInvoiceTrail(services, actorOf(request), request.params.id, placeOf(request.query))),
      ),
  );
  app.get(
    '/accounts/:id/statements/:month/trail',
    {
      schema: {
        summary: 'Who did what on a statement that was issued',
        description,
        tags,
        params: statementParams,
        querystring: trailQuery,
        response: { 200: trailAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { id: accountId, month } = request.params;
      return answerTrail(
        unwrap(
          await readStatementTrail(services, actorOf(request), { accountId, month }, placeOf(request.query)),
        ),
      );
    },
  );
};

function placeOf({ before, after }: z.infer<typeof trailQuery>) {
  return { before: before ?? null, after: after ?? null };
}
