import { issueReady, listReadyToInvoice, previewInvoice, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerPreview, answerReady, answerRun } from './ready-answers.ts';
import { previewAnswer, previewBody, readyAnswer, readyQuery, runAnswer, runBody } from './schemas.ts';

const tags = ['Invoices'];

export const readyToInvoiceRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/invoices/ready',
    {
      schema: {
        summary: 'List what waits for an invoice',
        description:
          'As the invoices that the accounts’ rules make of it, each with what it still waits for.',
        tags,
        querystring: readyQuery,
        response: { 200: readyAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId = null, after = null } = request.query;
      return answerReady(unwrap(await listReadyToInvoice(services, actorOf(request), { accountId, after })));
    },
  );
  app.post(
    '/invoices/preview',
    {
      schema: {
        summary: 'See what an invoice would come to',
        tags,
        body: previewBody,
        response: { 200: previewAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { work_order_ids: workOrderIds, issued_on: issuedOn } = request.body;
      const preview = await previewInvoice(services, actorOf(request), { workOrderIds, issuedOn });
      return answerPreview(unwrap(preview));
    },
  );
  app.post(
    '/invoices/ready',
    {
      schema: {
        summary: 'Issue every invoice that is ready',
        description:
          'Each by itself: what is in the way of one leaves the others alone. Run again, or by two at once, it issues each thing once.',
        tags,
        body: runBody,
        response: { 200: runAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { through, account_ids: accountIds, issued_on: issuedOn } = request.body;
      return answerRun(
        unwrap(await issueReady(services, actorOf(request), { through, accountIds, issuedOn })),
      );
    },
  );
};
