import { formatMinor } from '@grainwright/domain';
import {
  addStopPoint,
  holdWorkOrder,
  liftHold,
  listEarlierWork,
  recordKeyTest,
  type Services,
  voidWorkOrder,
  writeRework,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams, writtenUpAnswer } from '../work-orders/schemas.ts';
import { answerEarlierWork } from './earlier-answers.ts';
import {
  earlierAnswer,
  heldAnswer,
  holdBody,
  keyTestBody,
  keyTestedAnswer,
  reworkBody,
  stopPointAnswer,
  stopPointBody,
  voidBody,
  voidedAnswer,
} from './turn-schemas.ts';

const tags = ['Work'];
const params = workOrderParams;

/** What happens to work besides being done: void, on hold, come back, tested, stopped on purpose. */
export const turnRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(endingRoutes, options);
  await app.register(comebackRoutes, options);
  await app.register(vehicleSideRoutes, options);
};

const endingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/void',
    {
      schema: {
        summary: 'Void a work order, which keeps its number',
        tags,
        params,
        body: voidBody,
        response: { 200: voidedAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { reason, note, duplicate_of_id: duplicateOfId } = request.body;
      const input = { workOrderId: request.params.id, reason, note, duplicateOfId };
      const { state, noShowFeeMinor, currency } = unwrap(
        await voidWorkOrder(services, actorOf(request), input),
      );
      return { state, no_show_fee: noShowFeeMinor === null ? null : formatMinor(noShowFeeMinor, currency) };
    },
  );
  for (const [path, summary, change] of [
    ['hold', 'Put work on hold: it does not start', holdWorkOrder],
    ['hold-lift', 'Lift a hold', liftHold],
  ] as const)
    app.post(
      `/work-orders/:id/${path}`,
      { schema: { summary, tags, params, body: holdBody, response: { 200: heldAnswer, ...problemAnswer } } },
      async (request) => {
        const input = { workOrderId: request.params.id, reason: request.body.reason };
        const { state, holdReason } = unwrap(await change(services, actorOf(request), input));
        return { state, hold_reason: holdReason };
      },
    );
};

const comebackRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/reworks',
    {
      schema: {
        summary: 'Write up what came back of accepted work, without charge',
        tags,
        params,
        body: reworkBody,
        response: { 201: writtenUpAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, visit_id: visitId, site_id: siteId, reason, day, rush } = request.body;
      const afterHours = request.body.after_hours;
      const input = { id, visitId, siteId, reason, day, afterHours, rush, reworkOfId: request.params.id };
      const { workOrderId, number, warnings } = unwrap(await writeRework(services, actorOf(request), input));
      return reply.code(201).send({ id: workOrderId, number: number.toString(), warnings: [...warnings] });
    },
  );
  app.get(
    '/work-orders/:id/earlier-work',
    {
      schema: {
        summary: 'What else was written up of this vehicle lately',
        tags,
        params,
        response: { 200: earlierAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const earlier = unwrap(await listEarlierWork(services, actorOf(request), request.params.id));
      return { earlier: earlier.map(answerEarlierWork) };
    },
  );
};

const vehicleSideRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/key-tests',
    {
      schema: {
        summary: 'Write down how a key remote did in its tests, in their order',
        tags,
        params,
        body: keyTestBody,
        response: { 201: keyTestedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, line_id: lineId, ...steps } = request.body;
      const input = { id, workOrderId: request.params.id, lineId, steps };
      return reply.code(201).send(unwrap(await recordKeyTest(services, actorOf(request), input)));
    },
  );
  app.post(
    '/work-orders/:id/stop-points',
    {
      schema: {
        summary: 'Put on record where work was stopped on purpose',
        tags,
        params,
        body: stopPointBody,
        response: { 201: stopPointAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, line_id: lineId, photo_id: photoId, note, shown } = request.body;
      const input = { id, workOrderId: request.params.id, lineId, photoId, note, shown };
      return reply.code(201).send(unwrap(await addStopPoint(services, actorOf(request), input)));
    },
  );
};
