import { readMe, type Services, signIn, signOut } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf, sessionOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerWith } from './answer.ts';
import { passwordRoutes } from './password-routes.ts';
import { meAnswer, sessionAnswer, signInBody } from './schemas.ts';

export const sessionRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  await app.register(passwordRoutes, { services });
  app.post(
    '/sessions',
    {
      schema: {
        summary: 'Sign in',
        tags: ['Sign-in'],
        body: signInBody,
        response: { 201: sessionAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { email, password, membership_id } = request.body;
      const signedIn = unwrap(
        await signIn(services, { email, password, membershipId: membership_id, fromAddress: request.ip }),
      );
      return reply.code(201).send(answerWith(signedIn));
    },
  );
  app.delete(
    '/sessions/current',
    { schema: { summary: 'Sign out', tags: ['Sign-in'], response: { 204: z.null(), ...problemAnswer } } },
    async (request, reply) => {
      await signOut(services, sessionOf(request).id);
      return reply.code(204).send(null);
    },
  );
  app.get(
    '/me',
    {
      schema: {
        summary: 'Who you are here',
        tags: ['Sign-in'],
        response: { 200: meAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const me = unwrap(await readMe(services, actorOf(request)));
      return {
        name: me.name,
        role: me.role,
        business: {
          name: me.business.name,
          currency: me.business.currency,
          time_zone: me.business.timeZone,
          today: me.today,
        },
        account_id: me.accountId,
      };
    },
  );
};
