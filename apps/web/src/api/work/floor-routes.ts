import { consentBelowFloor, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { floorConsentBody } from '../work-orders/price-note-schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { stateAnswer } from './schemas.ts';

const tags = ['Work'];

/** Prices below the business’s floor. */
export const floorRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/floor-consent',
    {
      schema: {
        summary: 'Consent to a line’s price below the floor (owner of the business)',
        description: 'It holds for that line at that price and above; a lower one needs another consent.',
        tags,
        params: workOrderParams,
        body: floorConsentBody,
        response: { 200: stateAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { line_id: lineId, ...consent } = request.body;
      const input = { workOrderId: request.params.id, lineId, ...consent };
      return unwrap(await consentBelowFloor(services, actorOf(request), input));
    },
  );
};
