import { openSignature, readAcceptanceRecords, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { acceptanceParams, recordJson, recordsAnswer } from './record-schemas.ts';

const tags = ['Acceptance'];

/** What is on record of each answer, and the drawn signature. */
export const acceptanceRecordRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/work-orders/:id/acceptances',
    {
      schema: {
        summary: 'All answers to a work order, with everything that is on record of each',
        tags,
        params: workOrderParams,
        response: { 200: recordsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const records = unwrap(await readAcceptanceRecords(services, actorOf(request), request.params.id));
      return { acceptances: records.map(recordJson) };
    },
  );
  app.get(
    '/acceptances/:id/signature',
    {
      schema: {
        summary: 'The drawn signature as a picture',
        tags,
        params: acceptanceParams,
        produces: ['image/png'],
        response: { 200: z.any(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const asked = { acceptanceId: request.params.id, heldDigest: heldDigest(request) };
      return sendPhoto(reply, unwrap(await openSignature(services, actorOf(request), asked)));
    },
  );
};
