import { giveCopy, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answeredParams, signatureParams } from './record-schemas.ts';
import { copyGivenAnswer, copyGivenJson, copyWish } from './schemas.ts';

const tags = ['Acceptance'];

/** Where the copy of what was signed goes. */
export const copyRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/acceptances/:acceptance_id/copies',
    {
      schema: {
        summary: 'Give the signer their copy by e-mail or by a link, or keep that they want none',
        tags,
        params: answeredParams,
        body: copyWish,
        response: { 201: copyGivenAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: workOrderId, acceptance_id: acceptanceId } = request.params;
      const input = { workOrderId, acceptanceId, copy: request.body };
      return reply.code(201).send(copyGivenJson(unwrap(await giveCopy(services, actorOf(request), input))));
    },
  );
  app.post(
    '/visits/:id/signatures/:signature_id/copies',
    {
      schema: {
        summary: 'The same for one signature over several vehicles: one copy of all of them',
        tags,
        params: signatureParams,
        body: copyWish,
        response: { 201: copyGivenAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: visitId, signature_id: signatureId } = request.params;
      const input = { visitId, signatureId, copy: request.body };
      return reply.code(201).send(copyGivenJson(unwrap(await giveCopy(services, actorOf(request), input))));
    },
  );
};
