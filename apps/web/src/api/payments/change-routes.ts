import {
  moveCredit,
  refundCredit,
  refundDeposit,
  returnPayment,
  type Services,
  unapplyPayment,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerPayment, answerRefund } from './answers.ts';
import {
  creditNoteParams,
  depositRefundBody,
  moveBody,
  paymentAnswer,
  paymentParams,
  refundAnswer,
  refundBody,
  returnBody,
  unapplyBody,
} from './schemas.ts';

const tags = ['Payments'];

/** What becomes of money after it came: it is returned, taken off an invoice, paid back, moved within a group. */
export const paymentChangeRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.post(
    '/payments/:id/returns',
    {
      schema: {
        summary: 'Record that a payment or deposit came back; what it settled is open again',
        tags,
        params: paymentParams,
        body: returnBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: returnId, returned_on: returnedOn, reason, fee } = request.body;
      const input = { returnId, paymentId: request.params.id, returnedOn, reason, fee };
      const returned = await returnPayment(services, actorOf(request), input);
      return reply.code(201).send(answerPayment(unwrap(returned)));
    },
  );
  app.post(
    '/payments/:id/unapplications',
    {
      schema: {
        summary: 'Take one application of a payment back',
        tags,
        params: paymentParams,
        body: unapplyBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: unapplicationId, application_id: applicationId, reason, on } = request.body;
      const input = { unapplicationId, paymentId: request.params.id, applicationId, reason, on };
      const taken = await unapplyPayment(services, actorOf(request), input);
      return reply.code(201).send(answerPayment(unwrap(taken)));
    },
  );
  await app.register(refundRoutes, { services });
  await app.register(moveRoutes, { services });
};

const refundRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/payments/:id/refunds',
    {
      schema: {
        summary: 'Pay back account credit that a payment holds',
        tags,
        params: paymentParams,
        body: refundBody,
        response: { 201: refundAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: refundId, ...body } = request.body;
      const from = { paymentId: request.params.id };
      const refund = unwrap(await refundCredit(services, actorOf(request), { refundId, from, ...body }));
      return reply.code(201).send(answerRefund(refund));
    },
  );
  app.post(
    '/deposits/:id/refunds',
    {
      schema: {
        summary: 'Give a deposit back, less a fee that is kept',
        tags,
        params: paymentParams,
        body: depositRefundBody,
        response: { 201: refundAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: refundId, fee_kept: feeKept, ...body } = request.body;
      const input = { refundId, paymentId: request.params.id, feeKept, ...body };
      return reply
        .code(201)
        .send(answerRefund(unwrap(await refundDeposit(services, actorOf(request), input))));
    },
  );
  app.post(
    '/credit-notes/:id/refunds',
    {
      schema: {
        summary: 'Pay back account credit that a credit note gave',
        tags,
        params: creditNoteParams,
        body: refundBody,
        response: { 201: refundAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: refundId, ...body } = request.body;
      const from = { creditNoteId: request.params.id };
      const refund = unwrap(await refundCredit(services, actorOf(request), { refundId, from, ...body }));
      return reply.code(201).send(answerRefund(refund));
    },
  );
};

const moveRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/payments/:id/moves',
    {
      schema: {
        summary:
          'Move account credit of a payment to another account of the group; answers what holds it there',
        tags,
        params: paymentParams,
        body: moveBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: moveId, to_account_id: toAccountId, amount, on } = request.body;
      const input = { moveId, from: { paymentId: request.params.id }, toAccountId, amount, on };
      return reply.code(201).send(answerPayment(unwrap(await moveCredit(services, actorOf(request), input))));
    },
  );
  app.post(
    '/credit-notes/:id/moves',
    {
      schema: {
        summary: 'Move account credit of a credit note to another account of the group',
        tags,
        params: creditNoteParams,
        body: moveBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: moveId, to_account_id: toAccountId, amount, on } = request.body;
      const input = { moveId, from: { creditNoteId: request.params.id }, toAccountId, amount, on };
      return reply.code(201).send(answerPayment(unwrap(await moveCredit(services, actorOf(request), input))));
    },
  );
};
