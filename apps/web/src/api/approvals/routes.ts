import {
  approveSeveral,
  askAgain,
  orderApprovers,
  passOnAnswer,
  readWorkOrder,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { accountParams } from '../accounts/schemas.ts';
import { seenIn } from '../decisions/given-answers.ts';
import { workOrderParams } from '../decisions/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { answerAsking, answerPassedOn, answerSeveral } from './answers.ts';
import { approvalByLinkRoutes } from './by-link-routes.ts';
import { decisionRecordRoutes } from './record-routes.ts';
import {
  approvalsAnswer,
  approvalsBody,
  askBody,
  askedAnswer,
  askOrderBody,
  asksAnswer,
  passedOnAnswer,
  passOnBody,
} from './schemas.ts';
import { approvedIn } from './several.ts';

const tags = ['Approval'];

/** Who is asked for an answer, passing one on, several at once, and what was seen when one was given. */
export const approvalRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(approvalByLinkRoutes, options);
  await app.register(askingRoutes, options);
  await app.register(contactsRoutes, options);
  await app.register(decisionRecordRoutes, options);
};

const askingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders/:id/asks',
    {
      schema: {
        summary: 'Who was asked for an answer, and what was passed on',
        tags,
        params: workOrderParams,
        response: { 200: asksAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerAsking(unwrap(await readWorkOrder(services, actorOf(request), request.params.id)).asking),
  );
  app.post(
    '/work-orders/:id/asks',
    {
      schema: {
        summary: 'Ask an approver again, by a new mail with a new link',
        tags,
        params: workOrderParams,
        body: askBody,
        response: { 201: askedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: askId, person_id: personId } = request.body;
      const input = { askId, personId, workOrderId: request.params.id };
      return reply.code(201).send({ id: unwrap(await askAgain(services, actorOf(request), input)) });
    },
  );
  app.put(
    '/accounts/:id/ask-order',
    {
      schema: {
        summary: 'Set in which order an account’s approvers are asked',
        tags,
        params: accountParams,
        body: askOrderBody,
        response: { 204: z.null(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const input = { accountId: request.params.id, personIds: request.body.person_ids };
      unwrap(await orderApprovers(services, actorOf(request), input));
      return reply.code(204).send(null);
    },
  );
};

const contactsRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/passed-on-answers',
    {
      schema: {
        summary: 'Pass answers above one’s limit on to whoever may give them',
        description: 'For approvers of the account. It approves nothing; the next approver is asked by mail.',
        tags,
        params: workOrderParams,
        body: passOnBody,
        response: { 201: passedOnAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: passedOnId, total } = request.body;
      const input = { passedOnId, workOrderId: request.params.id, total, ...seenIn(request.body) };
      return reply
        .code(201)
        .send(answerPassedOn(unwrap(await passOnAnswer(services, actorOf(request), input))));
    },
  );
  app.post(
    '/approvals',
    {
      schema: {
        summary: 'Approve every line of several estimates, each as it was shown',
        description:
          'For approvers of the account. Each is an answer of its own; the result says what became of each.',
        tags,
        body: approvalsBody,
        response: { 200: approvalsAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerSeveral(unwrap(await approveSeveral(services, actorOf(request), approvedIn(request.body)))),
  );
};
