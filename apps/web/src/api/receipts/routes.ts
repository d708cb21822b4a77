import { formatDecimal, formatMinor } from '@grainwright/domain';
import {
  assignReceipt,
  bringForward,
  chargeLate,
  listLateCharges,
  listOpenings,
  listParkedReceipts,
  parkReceipt,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { answerPayment } from '../payments/answers.ts';
import { paymentAnswer } from '../payments/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { answerOpening, answerReceipt } from './answers.ts';
import { clearingRoutes } from './clearing-routes.ts';
import {
  accountParams,
  assignBody,
  chargedAnswer,
  lateAnswer,
  lateBody,
  openingAnswer,
  openingBody,
  openingsAnswer,
  parkBody,
  receiptAnswer,
  receiptParams,
  receiptsAnswer,
  receiptsQuery,
} from './schemas.ts';

const tags = ['Receipts'];

/** Money without a known payer, charges for paying late, what older books left, and the processor of card payments. */
export const receiptRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/parked-receipts',
    {
      schema: {
        summary: 'List money whose payer is not known, or was found out, oldest first',
        tags,
        querystring: receiptsQuery,
        response: { 200: receiptsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { assigned, past = null } = request.query;
      const asked = { assigned: assigned === 'true', past };
      const list = unwrap(await listParkedReceipts(services, actorOf(request), asked));
      const { currency, next } = list;
      return {
        receipts: list.rows.map(answerReceipt),
        parked: formatMinor(list.parkedMinor, currency),
        currency,
        next,
      };
    },
  );
  app.post(
    '/parked-receipts',
    {
      schema: {
        summary: 'Record money whose payer is not known',
        tags,
        body: parkBody,
        response: { 201: receiptAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: receiptId, received_on: receivedOn, ...body } = request.body;
      const parked = await parkReceipt(services, actorOf(request), { receiptId, receivedOn, ...body });
      return reply.code(201).send(answerReceipt(unwrap(parked)));
    },
  );
  app.post(
    '/parked-receipts/:id/assignment',
    {
      schema: {
        summary: 'Give such money to the account that sent it; answers the payment that it becomes',
        tags,
        params: receiptParams,
        body: assignBody,
        response: { 201: paymentAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { account_id: accountId, payment_id: paymentId, on } = request.body;
      const input = { receiptId: request.params.id, accountId, paymentId, on };
      return reply
        .code(201)
        .send(answerPayment(unwrap(await assignReceipt(services, actorOf(request), input))));
    },
  );
  await app.register(lateChargeRoutes, { services });
  await app.register(openingRoutes, { services });
  await app.register(clearingRoutes, { services });
};

const lateChargeRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/late-charges',
    {
      schema: {
        summary: 'Show what may be charged today for paying late',
        tags,
        response: { 200: lateAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const list = unwrap(await listLateCharges(services, actorOf(request)));
      const amount = (minor: bigint) => formatMinor(minor, list.currency);
      return {
        percent: formatDecimal(list.percent),
        grace_days: list.graceDays,
        charges: list.rows.map((row) => ({
          invoice_id: row.id,
          invoice_number: row.number,
          account_id: row.accountId,
          account_name: row.accountName,
          due_on: row.dueOn,
          open: amount(row.openMinor),
          disputed: amount(row.disputedMinor),
          base: amount(row.baseMinor),
          amount: amount(row.amountMinor),
        })),
        total: amount(list.totalMinor),
        currency: list.currency,
      };
    },
  );
  app.post(
    '/late-charges',
    {
      schema: {
        summary: 'Charge for paying late, once an invoice and month',
        tags,
        body: lateBody,
        response: { 201: chargedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const input = { invoiceIds: request.body.invoice_ids };
      const { charges, currency } = unwrap(await chargeLate(services, actorOf(request), input));
      return reply.code(201).send({
        charges: charges.map(({ id, number, invoiceNumber, amountMinor }) => ({
          id,
          number,
          invoice_number: invoiceNumber,
          amount: formatMinor(amountMinor, currency),
        })),
        currency,
      });
    },
  );
};

const openingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/accounts/:id/opening-balances',
    {
      schema: {
        summary: 'List what an account brought along from older books',
        tags,
        params: accountParams,
        response: { 200: openingsAnswer, ...problemAnswer },
      },
    },
    async (request) => ({
      openings: unwrap(await listOpenings(services, actorOf(request), request.params.id)).map(answerOpening),
    }),
  );
  app.post(
    '/accounts/:id/opening-balances',
    {
      schema: {
        summary: 'Take over what an account owed and had in credit in older books',
        tags,
        params: accountParams,
        body: openingBody,
        response: { 201: openingAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: openingId, brought_on: broughtOn, items, credit } = request.body;
      const brought = await bringForward(services, actorOf(request), {
        openingId,
        accountId: request.params.id,
        broughtOn,
        items: items.map(({ issued_on, due_on, ...item }) => ({
          ...item,
          issuedOn: issued_on,
          dueOn: due_on,
        })),
        credit,
      });
      return reply.code(201).send(answerOpening(unwrap(brought)));
    },
  );
};
