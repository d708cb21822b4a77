import {
  answerDispute,
  listDisputes,
  openDispute,
  readDispute,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerDisputed } from './answers.ts';
import {
  answerBody,
  disputeAnswer,
  disputeBody,
  disputeParams,
  disputesAnswer,
  disputesQuery,
} from './schemas.ts';

const tags = ['Disputes'];

export const disputeRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/disputes',
    {
      schema: {
        summary: 'Say that a part of an invoice is not agreed with',
        description:
          'By a contact of the account, or by staff when less was paid than was due. Never more than is open; the rest is collected as usual.',
        tags,
        body: disputeBody,
        response: { 201: disputeAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, invoice_id, line_id, amount, reason, note, on = null } = request.body;
      const opened = await openDispute(services, actorOf(request), {
        disputeId: id,
        invoiceId: invoice_id,
        lineId: line_id,
        amount,
        reason,
        note,
        on,
      });
      return reply.code(201).send(answerDisputed(unwrap(opened)));
    },
  );
  await app.register(readRoutes, { services });
  app.post(
    '/disputes/:id/answer',
    {
      schema: {
        summary: 'Answer a dispute: the amount stands, or it was credited',
        tags,
        params: disputeParams,
        body: answerBody,
        response: { 200: disputeAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { answer, note, credit_note_id: creditNoteId } = request.body;
      const input = { disputeId: request.params.id, answer, creditNoteId, note };
      return answerDisputed(unwrap(await answerDispute(services, actorOf(request), input)));
    },
  );
};

const readRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/disputes',
    {
      schema: {
        summary: 'List disputes, the longest open first',
        tags,
        querystring: disputesQuery,
        response: { 200: disputesAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId = null, waiting, after: past = null } = request.query;
      const input = { accountId, waitingOnly: waiting === 'true', past };
      const list = unwrap(await listDisputes(services, actorOf(request), input));
      return { disputes: list.rows.map(answerDisputed), next: list.next };
    },
  );
  app.get(
    '/disputes/:id',
    {
      schema: {
        summary: 'Read a dispute',
        tags,
        params: disputeParams,
        response: { 200: disputeAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerDisputed(unwrap(await readDispute(services, actorOf(request), request.params.id))),
  );
};
