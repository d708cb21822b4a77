import { checkAsked, type Services, writeMessage } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { bearerLinkOf, wrongPurpose } from '../../plugins/link.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { messageBody, writtenAnswer } from './schemas.ts';

/** Questions and answers; they are read with their work order. */
export const messageRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/messages',
    {
      schema: {
        summary: 'Write on a work order, for the account or the business; the other side gets it by mail',
        tags: ['Messages'],
        params: workOrderParams,
        body: messageBody,
        response: { 201: writtenAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const input = { ...request.body, workOrderId: request.params.id };
      const id = unwrap(await writeMessage(services, actorOf(request), input));
      return reply.code(201).send({ id });
    },
  );
  app.post(
    '/by-link/work-orders/:id/messages',
    {
      schema: {
        summary: 'By the token of a contact’s link: write on a work order that it opens',
        tags: ['Links'],
        params: workOrderParams,
        body: messageBody,
        response: { 201: writtenAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const link = await bearerLinkOf(services, request);
      if (link.purpose !== 'approval') throw wrongPurpose();
      const workOrderId = unwrap(await checkAsked(services, link, request.params.id));
      const id = unwrap(await writeMessage(services, link.actor, { ...request.body, workOrderId }));
      return reply.code(201).send({ id });
    },
  );
};
