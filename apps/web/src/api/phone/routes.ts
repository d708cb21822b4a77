import { type PhoneSnapshot, readPhoneSnapshot, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { snapshotAnswer } from './schemas.ts';

/** What the app on a phone needs besides the routes that everybody uses. */
export const phoneRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/phone/snapshot',
    {
      schema: {
        summary: 'What your phone takes along for a day without signal',
        description:
          'Your stops of today with their open work orders, where you may write up a vehicle, and the kinds of repair. What is done without signal is sent by the routes that everybody uses, under ids made on the phone.',
        tags: ['Work orders'],
        response: { 200: snapshotAnswer, ...problemAnswer },
      },
    },
    async (request) => answerSnapshot(unwrap(await readPhoneSnapshot(services, actorOf(request)))),
  );
};

function answerSnapshot(snapshot: PhoneSnapshot): z.input<typeof snapshotAnswer> {
  return {
    ...snapshot,
    stops: [...snapshot.stops],
    places: [...snapshot.places],
    repairs: snapshot.repairs.map((repair) => ({ ...repair, rates: [...repair.rates] })),
    factors: [...snapshot.factors],
    workOrders: snapshot.workOrders.map((workOrder) => ({
      ...workOrder,
      lines: workOrder.lines.map((line) => ({ ...line, methods: [...line.methods] })),
      photos: [...workOrder.photos],
      warned: workOrder.warned.map((photo) => ({ ...photo, warnings: [...photo.warnings] })),
      recorded: [...workOrder.recorded],
      stopPoints: [...workOrder.stopPoints],
      releasedLines: [...workOrder.releasedLines],
      testedKeys: [...workOrder.testedKeys],
    })),
  };
}
