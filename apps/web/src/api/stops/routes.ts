import {
  dropStop,
  listDay,
  listToday,
  orderStops,
  planStop,
  readStop,
  type Services,
  type StopView,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { answerCertificateWarning } from '../certificate-warning.ts';
import { problemAnswer } from '../schemas.ts';
import { answerRow } from '../work-orders/answers.ts';
import {
  dayAnswer,
  dayQuery,
  droppedAnswer,
  orderBody,
  orderedAnswer,
  planBody,
  stopAnswer,
  stopParams,
  todayAnswer,
  todayQuery,
} from './schemas.ts';

const tags = ['Stops'];

/** The stops of a day, in their order, and what is left to do at each. */
export const stopRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(readingRoutes, options);
  await app.register(planningRoutes, options);
};

const readingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/today',
    {
      schema: {
        summary: 'Your stops of a day',
        tags,
        querystring: todayQuery,
        response: { 200: todayAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const asked = { day: request.query.day, allLeft: request.query.left === 'all' };
      const { day, stops, left, currency } = unwrap(await listToday(services, actorOf(request), asked));
      return {
        day,
        stops: stops.map((stop) => answerStop(stop, currency)),
        left_from_earlier: {
          more: left.more,
          work_orders: left.workOrders.map((each) => answerOrder(each, currency)),
        },
      };
    },
  );
  app.get(
    '/stops',
    {
      schema: {
        summary: 'Everybody’s stops of a day',
        tags,
        querystring: dayQuery,
        response: { 200: dayAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { day, technicians, currency } = unwrap(await listDay(services, actorOf(request), request.query));
      return {
        day,
        technicians: technicians.map(({ id, name, stops }) => ({
          id,
          name,
          stops: stops.map((stop) => answerStop(stop, currency)),
        })),
      };
    },
  );
  app.get(
    '/visits/:id',
    {
      schema: {
        summary: 'A stop with its vehicles and what comes next on each',
        tags,
        params: stopParams,
        response: { 200: stopAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const stop = unwrap(await readStop(services, actorOf(request), request.params.id));
      return answerStop(stop, stop.currency);
    },
  );
};

const planningRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/stops',
    {
      schema: {
        summary: 'Plan a stop, last on a technician’s day',
        description: 'Where the technician goes there on that day already, that stop is answered.',
        tags,
        body: planBody,
        response: { 201: stopAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, technician_id, account_id, site_id, day, after_hours, rush } = request.body;
      const planned = await planStop(services, actorOf(request), {
        visitId: id,
        technicianId: technician_id,
        accountId: account_id,
        siteId: site_id,
        day,
        afterHours: after_hours,
        rush,
      });
      const stop = unwrap(planned);
      return reply.code(201).send(answerStop(stop, stop.currency));
    },
  );
  app.delete(
    '/stops/:id',
    {
      schema: {
        summary: 'Take a stop off a day while no vehicle is written up there',
        tags,
        params: stopParams,
        response: { 200: droppedAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { visitId } = unwrap(await dropStop(services, actorOf(request), request.params.id));
      return { visit_id: visitId };
    },
  );
  app.put(
    '/stops/order',
    {
      schema: {
        summary: 'Put the stops of a day in order',
        description: 'Technicians order their own; who sees all work orders may order anybody’s.',
        tags,
        body: orderBody,
        response: { 200: orderedAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { technician_id: technicianId, day, visit_ids: visitIds } = request.body;
      const ordered = await orderStops(services, actorOf(request), { technicianId, day, visitIds });
      const { day: orderedDay, visitIds: order } = unwrap(ordered);
      return { day: orderedDay, visit_ids: [...order] };
    },
  );
};

function answerStop(stop: StopView, currency: string): z.infer<typeof stopAnswer> {
  return {
    visit_id: stop.visitId,
    day: stop.day,
    position: stop.position,
    technician: stop.technician,
    account: stop.account,
    site: stop.site,
    after_hours: stop.afterHours,
    rush: stop.rush,
    phone: stop.phone,
    certificate_warning: answerCertificateWarning(stop.certificateWarning),
    left: stop.left,
    work_orders: stop.workOrders.map((each) => answerOrder(each, currency)),
  };
}

function answerOrder({ next, ...row }: StopView['workOrders'][number], currency: string) {
  return {
    ...answerRow(row, currency),
    next: next.kind,
    next_line_id: 'lineId' in next ? next.lineId : null,
  };
}
