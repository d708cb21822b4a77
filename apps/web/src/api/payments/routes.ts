import { formatMinor } from '@grainwright/domain';
import {
  applyPayment,
  listPayments,
  type PaymentView,
  readPayment,
  recordPayment,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import {
  applyBody,
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
  app.get(
    '/payments',
    {
      schema: {
        summary: 'List payments, latest first',
        tags,
        querystring: paymentsQuery,
        response: { 200: paymentsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId = null, before = null } = request.query;
      const list = unwrap(await listPayments(services, actorOf(request), { accountId, before }));
      return { payments: list.rows.map(answerPayment), next: list.next };
    },
  );
  app.get(
    '/payments/:id',
    {
      schema: {
        summary: 'Read a payment',
        tags,
        params: paymentParams,
        response: { 200: paymentAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerPayment(unwrap(await readPayment(services, actorOf(request), request.params.id))),
  );
  await app.register(applicationRoutes, { services });
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

function answerPayment(view: PaymentView): z.input<typeof paymentAnswer> {
  const { id, method, reference, currency } = view;
  return {
    id,
    account_id: view.accountId,
    account_name: view.accountName,
    method,
    reference,
    amount: formatMinor(view.amountMinor, currency),
    unapplied: formatMinor(view.unappliedMinor, currency),
    currency,
    received_on: view.receivedOn,
    recorded_at: view.recordedAt,
    applications: view.applications.map((application) => ({
      id: application.id,
      invoice_id: application.invoiceId,
      invoice_number: application.invoiceNumber,
      amount: formatMinor(application.amountMinor, currency),
      applied_on: application.appliedOn,
    })),
  };
}
