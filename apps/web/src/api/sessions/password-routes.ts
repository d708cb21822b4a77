import {
  changePassword,
  joinBusiness,
  listOwnMemberships,
  type Services,
  type SignedIn,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sessionOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerWith } from './answer.ts';
import { joinBody, passwordBody, sessionAnswer } from './schemas.ts';

/** What takes a new password of somebody signed in. */
export const passwordRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/memberships',
    {
      schema: {
        summary: 'Join a business with the code it handed over',
        description: 'Needs a new password. Every session ends; the answer holds the one that goes on.',
        tags: ['Sign-in'],
        body: joinBody,
        response: { 201: sessionAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { code, new_password: newPassword } = request.body;
      const session = unwrap(await joinBusiness(services, sessionOf(request), { code, newPassword }));
      return reply.code(201).send(await answerOf(services, session));
    },
  );
  app.post(
    '/me/password',
    {
      schema: {
        summary: 'Change your password',
        description: 'Every session ends; the answer holds the one that goes on.',
        tags: ['Sign-in'],
        body: passwordBody,
        response: { 200: sessionAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { old_password, new_password } = request.body;
      const changed = { old: old_password, new: new_password, fromAddress: request.ip };
      return answerOf(services, unwrap(await changePassword(services, sessionOf(request), changed)));
    },
  );
};

async function answerOf(
  services: Services,
  session: SignedIn['session'],
): Promise<z.input<typeof sessionAnswer>> {
  return answerWith({ session, memberships: unwrap(await listOwnMemberships(services, session)) });
}
