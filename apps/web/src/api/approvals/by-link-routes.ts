import type { WorkOrderId } from '@grainwright/domain';
import {
  approveSeveral,
  checkAsked,
  checkNumbersAsked,
  decideEstimate,
  giveNumbers,
  passOnAnswer,
  previewDecision,
  readAskedVisit,
  type Services,
} from '@grainwright/operations';
import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { type ApprovalLink, bearerLinkOf, wrongPurpose } from '../../plugins/link.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { decisionJson, previewJson } from '../decisions/answers.ts';
import { answerIn, seenIn } from '../decisions/given-answers.ts';
import {
  decisionAnswer,
  decisionBody,
  previewAnswer,
  previewBody,
  workOrderParams,
} from '../decisions/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { givenNumbersBody } from '../work-orders/schemas.ts';
import { answerLinked, answerPassedOn, answerSeveral } from './answers.ts';
import {
  approvalsAnswer,
  approvalsBody,
  linkedEstimatesAnswer,
  passedOnAnswer,
  passOnBody,
} from './schemas.ts';
import { approvedIn } from './several.ts';

const tags = ['Links'];
const response = { 200: linkedEstimatesAnswer, ...problemAnswer };

/** What a contact does by a mailed link. Its token, the last part of its address, comes as the bearer token. */
export const approvalByLinkRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(lookingRoutes, options);
  await app.register(answeringRoutes, options);
  await app.register(besidesRoutes, options);
};

const lookingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/by-link/estimates',
    { schema: { summary: 'By the token of a link: what its contact is asked about', tags, response } },
    async (request) => answerLinked(unwrap(await readAskedVisit(services, await linkOf(services, request)))),
  );
  app.post(
    '/by-link/work-orders/:id/decision-preview',
    {
      schema: {
        summary: 'By the token of a link: what answers would come to; changes nothing',
        tags,
        params: workOrderParams,
        body: previewBody,
        response: { 200: previewAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { link, workOrderId } = await asked(services, request, request.params.id);
      const input = { workOrderId, ...seenIn(request.body) };
      return previewJson(unwrap(await previewDecision(services, link.actor, input)));
    },
  );
};

const answeringRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/by-link/work-orders/:id/decisions',
    {
      schema: {
        summary: 'By the token of a link: answer an estimate, line by line',
        tags,
        params: workOrderParams,
        body: decisionBody,
        response: { 201: decisionAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { link, workOrderId } = await asked(services, request, request.params.id);
      const input = { workOrderId, ...answerIn(request.body) };
      return reply.code(201).send(decisionJson(unwrap(await decideEstimate(services, link.actor, input))));
    },
  );
  app.post(
    '/by-link/work-orders/:id/passed-on-answers',
    {
      schema: {
        summary: 'By the token of a link: pass answers above one’s limit on',
        tags,
        params: workOrderParams,
        body: passOnBody,
        response: { 201: passedOnAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { link, workOrderId } = await asked(services, request, request.params.id);
      const { id: passedOnId, total } = request.body;
      const input = { passedOnId, workOrderId, total, ...seenIn(request.body) };
      return reply.code(201).send(answerPassedOn(unwrap(await passOnAnswer(services, link.actor, input))));
    },
  );
};

const besidesRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/by-link/work-orders/:id/numbers',
    {
      schema: {
        summary: 'By the token of a link: give the numbers that the account still owes',
        tags,
        params: workOrderParams,
        body: givenNumbersBody,
        response,
      },
    },
    async (request) => {
      const link = await linkOf(services, request);
      const workOrderId = unwrap(await checkNumbersAsked(services, link, request.params.id));
      const { own_number: ownNumber, ro_number: roNumber, po_number: poNumber } = request.body;
      unwrap(await giveNumbers(services, link.actor, { workOrderId, ownNumber, roNumber, poNumber }));
      return answerLinked(unwrap(await readAskedVisit(services, link)));
    },
  );
  app.post(
    '/by-link/approvals',
    {
      schema: {
        summary: 'By the token of a link: approve every line of several estimates, each as it was shown',
        tags,
        body: approvalsBody,
        response: { 200: approvalsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const link = await linkOf(services, request);
      const estimates = approvedIn(request.body);
      for (const { workOrderId } of estimates) unwrap(await checkAsked(services, link, workOrderId));
      return answerSeveral(unwrap(await approveSeveral(services, link.actor, estimates)));
    },
  );
};

async function linkOf(services: Services, request: FastifyRequest): Promise<ApprovalLink> {
  const link = await bearerLinkOf(services, request);
  if (link.purpose !== 'approval') throw wrongPurpose();
  return link;
}

async function asked(services: Services, request: FastifyRequest, id: WorkOrderId) {
  const link = await linkOf(services, request);
  return { link, workOrderId: unwrap(await checkAsked(services, link, id)) };
}
