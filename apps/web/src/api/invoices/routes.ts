import { issueInvoice, listInvoices, readInvoice, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerInvoice, answerInvoices } from './answers.ts';
import { invoiceAnswer, invoiceParams, invoicesAnswer, invoicesQuery, issueBody } from './schemas.ts';

const tags = ['Invoices'];

export const invoiceRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/invoices',
    {
      schema: {
        summary: 'Issue an invoice',
        description:
          'Bills accepted work orders at the prices approved, and vehicles that were not there. Sent again with the same id and the same content, it answers as the first time.',
        tags,
        body: issueBody,
        response: { 201: invoiceAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: invoiceId, work_order_ids: workOrderIds, issued_on: issuedOn } = request.body;
      const issued = await issueInvoice(services, actorOf(request), { invoiceId, workOrderIds, issuedOn });
      return reply.code(201).send(answerInvoice(unwrap(issued)));
    },
  );
  app.get(
    '/invoices',
    {
      schema: {
        summary: 'List invoices, newest first',
        tags,
        querystring: invoicesQuery,
        response: { 200: invoicesAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId = null, open, standing, before: past = null } = request.query;
      const input = { accountId, openOnly: open === 'true', standing, past };
      return answerInvoices(unwrap(await listInvoices(services, actorOf(request), input)));
    },
  );
  app.get(
    '/invoices/:id',
    {
      schema: {
        summary: 'Read an invoice',
        tags,
        params: invoiceParams,
        response: { 200: invoiceAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerInvoice(unwrap(await readInvoice(services, actorOf(request), request.params.id))),
  );
};
