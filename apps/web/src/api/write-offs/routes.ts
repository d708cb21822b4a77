import { recoverWriteOff, type Services, takeDiscount, voidInvoice, writeOff } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { answerInvoice } from '../invoices/answers.ts';
import { invoiceAnswer, invoiceParams } from '../invoices/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { discountBody, recoveryBody, voidBody, writeOffBody, writeOffParams } from './schemas.ts';

const tags = ['Invoices'];

/** What ends an invoice, or a part of it, without money. Each answers with the invoice as it stands then. */
export const writeOffRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/invoices/:id/void',
    {
      schema: {
        summary: 'Void an invoice; its number is kept and its work may be invoiced again',
        tags,
        params: invoiceParams,
        body: voidBody,
        response: { 200: invoiceAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { invoiceId: request.params.id, reason: request.body.reason };
      return answerInvoice(unwrap(await voidInvoice(services, actorOf(request), input)));
    },
  );
  app.post(
    '/write-offs',
    {
      schema: {
        summary: 'Write off a bad debt or a small difference',
        tags,
        body: writeOffBody,
        response: { 201: invoiceAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: writeOffId, invoice_id: invoiceId, on = null, ...asked } = request.body;
      const written = await writeOff(services, actorOf(request), { writeOffId, invoiceId, on, ...asked });
      return reply.code(201).send(answerInvoice(unwrap(written)));
    },
  );
  app.post(
    '/write-offs/:id/recovery',
    {
      schema: {
        summary: 'Turn a write-off round: it is owed again',
        tags,
        params: writeOffParams,
        body: recoveryBody,
        response: { 200: invoiceAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { reason, on = null } = request.body;
      const input = { writeOffId: request.params.id, reason, on };
      return answerInvoice(unwrap(await recoverWriteOff(services, actorOf(request), input)));
    },
  );
  app.post(
    '/discounts',
    {
      schema: {
        summary: 'Grant the discount that a customer took for paying early',
        tags,
        body: discountBody,
        response: { 201: invoiceAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: discountId, invoice_id: invoiceId, on = null, ...asked } = request.body;
      const taken = await takeDiscount(services, actorOf(request), { discountId, invoiceId, on, ...asked });
      return reply.code(201).send(answerInvoice(unwrap(taken)));
    },
  );
};
