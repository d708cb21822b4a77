import {
  decideEstimate,
  listToApprove,
  previewDecision,
  recordDecision,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { decisionJson, previewJson } from './answers.ts';
import { answerEstimateToAnswer } from './estimate-to-answer.ts';
import { answerIn, seenIn } from './given-answers.ts';
import {
  decisionAnswer,
  decisionBody,
  previewAnswer,
  previewBody,
  recordedDecisionBody,
  toApproveAnswer,
  toApproveQuery,
  workOrderParams,
} from './schemas.ts';

const tags = ['Approval'];

/** What waits for an account’s answer, what an answer would come to, and the answer itself. */
export const decisionRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(askingRoutes, options);
  await app.register(answeringRoutes, options);
};

const askingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/to-approve',
    {
      schema: {
        summary: 'What waits for your answer',
        tags,
        querystring: toApproveQuery,
        response: { 200: toApproveAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { after } = request.query;
      const page = { after: after === undefined ? undefined : BigInt(after) };
      const list = unwrap(await listToApprove(services, actorOf(request), page));
      return { work_orders: list.rows.map(answerEstimateToAnswer), next: list.next?.toString() ?? null };
    },
  );
  app.post(
    '/work-orders/:id/decision-preview',
    {
      schema: {
        summary: 'What answers would come to; changes nothing',
        tags,
        params: workOrderParams,
        body: previewBody,
        response: { 200: previewAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { workOrderId: request.params.id, ...seenIn(request.body) };
      return previewJson(unwrap(await previewDecision(services, actorOf(request), input)));
    },
  );
};

const answeringRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  const response = { 201: decisionAnswer, ...problemAnswer };
  app.post(
    '/work-orders/:id/decisions',
    {
      schema: {
        summary: 'Answer an estimate, line by line',
        description: 'For approvers of the account. The first answer to a version counts.',
        tags,
        params: workOrderParams,
        body: decisionBody,
        response,
      },
    },
    async (request, reply) => {
      const input = { workOrderId: request.params.id, ...answerIn(request.body) };
      return reply
        .code(201)
        .send(decisionJson(unwrap(await decideEstimate(services, actorOf(request), input))));
    },
  );
  app.post(
    '/work-orders/:id/recorded-decisions',
    {
      schema: {
        summary: 'Write down the answer that an approver gave to the staff',
        description: 'For staff. It counts as the approver’s own answer, within the approver’s limit.',
        tags,
        params: workOrderParams,
        body: recordedDecisionBody,
        response,
      },
    },
    async (request, reply) => {
      const { decided_by, given } = request.body;
      const answer = { workOrderId: request.params.id, ...answerIn(request.body) };
      const input = { ...answer, decidedBy: decided_by, given };
      return reply
        .code(201)
        .send(decisionJson(unwrap(await recordDecision(services, actorOf(request), input))));
    },
  );
};
