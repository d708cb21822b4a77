import { addContact, endContact, resumeContact, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { addedPersonOf } from './added-person.ts';
import { accountParams, addContactBody, addedPersonAnswer, contactParams } from './schemas.ts';

const tags = ['Accounts'];

export const contactRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/accounts/:id/contacts',
    {
      schema: {
        summary: 'Add a contact',
        tags,
        params: accountParams,
        body: addContactBody,
        response: { 201: addedPersonAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { person_id: personId, login, ...contact } = request.body;
      const signIn = login && {
        userId: login.user_id,
        membershipId: login.membership_id,
        password: login.password,
      };
      const input = { accountId: request.params.id, personId, ...contact, login: signIn };
      const added = unwrap(await addContact(services, actorOf(request), input));
      return reply.code(201).send(addedPersonOf(added));
    },
  );
  app.post(
    '/accounts/:id/contacts/:person_id/end',
    {
      schema: {
        summary: 'End a contact’s access',
        tags,
        params: contactParams,
        response: { 204: z.null(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, person_id: personId } = request.params;
      unwrap(await endContact(services, actorOf(request), { accountId, personId }));
      return reply.code(204).send(null);
    },
  );
  app.post(
    '/accounts/:id/contacts/:person_id/resume',
    {
      schema: {
        summary: 'Give a contact access again',
        tags,
        params: contactParams,
        response: { 204: z.null(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: accountId, person_id: personId } = request.params;
      unwrap(await resumeContact(services, actorOf(request), { accountId, personId }));
      return reply.code(204).send(null);
    },
  );
};
