import { readRetention, type Services, setRetentionRule, switchRetention } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import {
  answerRetention,
  madeAnswer,
  retentionAnswer,
  retentionQuery,
  retentionRuleBody,
  switchAnswer,
  switchBody,
} from './schemas.ts';

const tags = ['Retention'];
const made = { 201: madeAnswer, ...problemAnswer };

/** How long things are kept. */
export const retentionRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/retention',
    {
      schema: {
        summary: 'How long things are kept, what would go on a day, and what went',
        description: 'Nothing is changed by looking.',
        tags,
        querystring: retentionQuery,
        response: { 200: retentionAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const on = request.query.on ?? null;
      return answerRetention(unwrap(await readRetention(services, actorOf(request), { on })));
    },
  );

  app.post(
    '/retention/rules',
    {
      schema: {
        summary: 'Set how long one kind of thing is kept',
        description: 'A shorter period counts 30 days later, and any longer one set meanwhile stops it.',
        tags,
        body: retentionRuleBody,
        response: made,
      },
    },
    async (request, reply) =>
      reply.code(201).send({ id: unwrap(await setRetentionRule(services, actorOf(request), request.body)) }),
  );

  app.post(
    '/retention/switch',
    {
      schema: {
        summary: 'Let the rules delete, or stop them',
        tags,
        body: switchBody,
        response: { 200: switchAnswer, ...problemAnswer },
      },
    },
    async (request) => ({ on: unwrap(await switchRetention(services, actorOf(request), request.body)) }),
  );
};
