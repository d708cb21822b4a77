import { recordNoAcceptance, releaseAcceptance, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { stateAnswer } from '../work/schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { missingSignatureBody, releaseAcceptanceBody } from './schemas.ts';

const tags = ['Acceptance'];

/** Work that nobody signed for, and who let it go all the same. */
export const unsignedRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/missing-signatures',
    {
      schema: {
        summary: 'Put on record that nobody signed, with a reason and a witness',
        tags,
        params: workOrderParams,
        body: missingSignatureBody,
        response: { 201: stateAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const input = { ...request.body, workOrderId: request.params.id };
      return reply.code(201).send(unwrap(await recordNoAcceptance(services, actorOf(request), input)));
    },
  );
  app.post(
    '/work-orders/:id/acceptance-release',
    {
      schema: {
        summary: 'Let finished work go without a signature, once it is on record that nobody signed',
        tags,
        params: workOrderParams,
        body: releaseAcceptanceBody,
        response: { 200: stateAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { workOrderId: request.params.id, reason: request.body.reason };
      return unwrap(await releaseAcceptance(services, actorOf(request), input));
    },
  );
};
