import {
  applyPayment,
  listPayments,
  readPayment,
  recordDeposit,
  recordPayment,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerPayment } from './answers.ts';
import { paymentChangeRoutes } from './change-routes.ts';
import {
  applyBody,
  depositBody,
  paymentAnswer,
  paymentParams,
  paymentsAnswer,
  paymentsQuery,
  recordBody,
} from './schemas.ts';

const tags = ['Payments'];

export const paymentRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/payments',
    {
      schema: {
        summary: 'Record a payment, and what it settles',
        tags,
        body: recordBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, account_id, received_on, applications, ...body } = request.body;
      const recorded = await recordPayment(services, actorOf(request), {
        paymentId: id,
        accountId: account_id,
        receivedOn: received_on,
        applications: applications.map(({ invoice_id, amount }) => ({ invoiceId: invoice_id, amount })),
        ...body,
      });
      return reply.code(201).send(answerPayment(unwrap(recorded)));
    },
  );
  await app.register(readingRoutes, { services });
  await app.register(depositRoutes, { services });
  await app.register(applicationRoutes, { services });
  await app.register(paymentChangeRoutes, { services });
};

const readingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/payments',
    {
      schema: {
        summary: 'List payments and deposits, latest first',
        tags,
        querystring: paymentsQuery,
        response: { 200: paymentsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId = null, before = null, show } = request.query;
      const list = unwrap(await listPayments(services, actorOf(request), { accountId, before, show }));
      return { payments: list.rows.map(answerPayment), next: list.next };
    },
  );
  app.get(
    '/payments/:id',
    {
      schema: {
        summary: 'Read a payment or deposit',
        tags,
        params: paymentParams,
        response: { 200: paymentAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerPayment(unwrap(await readPayment(services, actorOf(request), request.params.id))),
  );
};

const depositRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/deposits',
    {
      schema: {
        summary: 'Record a deposit, held until an invoice takes it',
        tags,
        body: depositBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, account_id, work_order_id, received_on, ...body } = request.body;
      const recorded = await recordDeposit(services, actorOf(request), {
        paymentId: id,
        accountId: account_id,
        workOrderId: work_order_id,
        receivedOn: received_on,
        ...body,
      });
      return reply.code(201).send(answerPayment(unwrap(recorded)));
    },
  );
};

/** What a payment settles after it was recorded. */
const applicationRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/payments/:id/applications',
    {
      schema: {
        summary: 'Apply a part of a payment to an invoice',
        tags,
        params: paymentParams,
        body: applyBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: applicationId, invoice_id: invoiceId, amount } = request.body;
      const input = { applicationId, paymentId: request.params.id, invoiceId, amount };
      return reply
        .code(201)
        .send(answerPayment(unwrap(await applyPayment(services, actorOf(request), input))));
    },
  );
};
