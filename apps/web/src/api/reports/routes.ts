import {
  exportAging,
  exportSalesTax,
  readAccountAging,
  readAging,
  readSalesTax,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerAccountAging, answerAging, answerSalesTax } from './answers.ts';
import { earningRoutes } from './earning-routes.ts';
import {
  accountAgingAnswer,
  accountParams,
  agingAnswer,
  agingQuery,
  asOfQuery,
  csvAnswer,
  daysQuery,
  salesTaxAnswer,
} from './schemas.ts';

const tags = ['Reports'];
const csv = { tags, produces: ['text/csv'], response: { 200: csvAnswer, ...problemAnswer } };

export const reportRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/reports/aging',
    {
      schema: {
        summary: 'What every account owed on a day, by age',
        tags,
        querystring: agingQuery,
        response: { 200: agingAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { as_of: asOf = null, after = null } = request.query;
      return answerAging(unwrap(await readAging(services, actorOf(request), { asOf, after })));
    },
  );
  app.get(
    '/reports/aging.csv',
    { schema: { summary: 'The aging of all accounts as CSV', querystring: asOfQuery, ...csv } },
    async (request, reply) => {
      const { as_of: asOf = null } = request.query;
      return sendFile(reply, unwrap(await exportAging(services, actorOf(request), { asOf })));
    },
  );
  app.get(
    '/reports/aging/:id',
    {
      schema: {
        summary: 'The open documents behind an account’s aging',
        tags,
        params: accountParams,
        querystring: asOfQuery,
        response: { 200: accountAgingAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { as_of: asOf = null } = request.query;
      const asked = { accountId: request.params.id, asOf };
      return answerAccountAging(unwrap(await readAccountAging(services, actorOf(request), asked)));
    },
  );
  app.get(
    '/reports/sales-tax',
    {
      schema: {
        summary: 'Sales tax by area and month, accrual basis',
        description: 'Gross is exempt + non-taxable + taxable. Your licensed adviser decides what to file.',
        tags,
        querystring: daysQuery,
        response: { 200: salesTaxAnswer, ...problemAnswer },
      },
    },
    async (request) => answerSalesTax(unwrap(await readSalesTax(services, actorOf(request), request.query))),
  );
  app.get(
    '/reports/sales-tax.csv',
    { schema: { summary: 'The sales-tax report as CSV', querystring: daysQuery, ...csv } },
    async (request, reply) =>
      sendFile(reply, unwrap(await exportSalesTax(services, actorOf(request), request.query))),
  );
  await app.register(earningRoutes, { services });
};
