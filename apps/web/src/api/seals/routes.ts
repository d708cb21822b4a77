import {
  listSealDays,
  listSealKeys,
  listWorkOrderSeals,
  readSealDay,
  rotateSealKey,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { workOrderParams } from '../work-orders/schemas.ts';
import { answerDay, answerDays, answerKeys, answerSeals } from './answers.ts';
import {
  dayAnswer,
  dayParams,
  daysAnswer,
  daysQuery,
  keysAnswer,
  newKeyBody,
  sealsAnswer,
} from './schemas.ts';

const tags = ['Seals'];

/** Seals, the keys that they are signed with, and the days' roots: for the staff and for accounts. */
export const sealRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders/:id/seals',
    {
      schema: {
        summary: 'The seals of a work order, with what was sealed and the proof that the day’s root holds it',
        tags,
        params: workOrderParams,
        response: { 200: sealsAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerSeals(unwrap(await listWorkOrderSeals(services, actorOf(request), request.params.id))),
  );
  app.get(
    '/seal-keys',
    {
      schema: {
        summary: 'The business’s public keys, the oldest first',
        tags,
        response: { 200: keysAnswer, ...problemAnswer },
      },
    },
    async (request) => answerKeys(unwrap(await listSealKeys(services, actorOf(request)))),
  );
  app.post(
    '/seal-keys',
    {
      schema: {
        summary: 'Change the signing key',
        description:
          'For the owner. The key before it introduces the new one with a seal; what it signed stays valid.',
        tags,
        body: newKeyBody,
        response: { 201: keysAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const keys = unwrap(await rotateSealKey(services, actorOf(request), request.body.id));
      return reply.code(201).send(answerKeys(keys));
    },
  );
  app.get(
    '/seal-days',
    {
      schema: {
        summary: 'The sealed days with their roots, the newest first',
        tags,
        querystring: daysQuery,
        response: { 200: daysAnswer, ...problemAnswer },
      },
    },
    async (request) => answerDays(unwrap(await listSealDays(services, actorOf(request), request.query))),
  );
  app.get(
    '/seal-days/:day',
    {
      schema: {
        summary: 'One sealed day: its signed text, and the leaves that its root is made of',
        tags,
        params: dayParams,
        response: { 200: dayAnswer, ...problemAnswer },
      },
    },
    async (request) => answerDay(unwrap(await readSealDay(services, actorOf(request), request.params.day))),
  );
};
