import {
  addStaffMember,
  endStaffMember,
  letPriceByHand,
  listStaff,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { addedPersonOf } from '../accounts/added-person.ts';
import { addedPersonAnswer } from '../accounts/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { addStaffBody, pricesByHandBody, staffAnswer, staffParams } from './schemas.ts';

const tags = ['Staff'];

export const staffRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/staff',
    { schema: { summary: 'List the staff', tags, response: { 200: staffAnswer, ...problemAnswer } } },
    async (request) => {
      const staff = unwrap(await listStaff(services, actorOf(request)));
      return {
        staff: staff.map(({ personId, shortName, endedOn, pricesByHand, name, role, email, phone }) => ({
          person_id: personId,
          name,
          short_name: shortName,
          role,
          email,
          phone,
          prices_by_hand: pricesByHand,
          ended_on: endedOn,
        })),
      };
    },
  );
  app.post(
    '/staff',
    {
      schema: {
        summary: 'Add a staff member',
        tags,
        body: addStaffBody,
        response: { 201: addedPersonAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { person_id: personId, short_name: shortName, login, ...rest } = request.body;
      const { prices_by_hand: pricesByHand, ...person } = rest;
      const signIn = login && {
        userId: login.user_id,
        membershipId: login.membership_id,
        password: login.password,
      };
      const added = unwrap(
        await addStaffMember(services, actorOf(request), {
          personId,
          shortName,
          pricesByHand,
          ...person,
          login: signIn,
        }),
      );
      return reply.code(201).send(addedPersonOf(added));
    },
  );
  await app.register(memberRoutes, { services });
};

/** What is said of one who is there. */
const memberRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/staff/:person_id/end',
    {
      schema: {
        summary: 'End a staff member’s access',
        tags,
        params: staffParams,
        response: { 204: z.null(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      unwrap(await endStaffMember(services, actorOf(request), { personId: request.params.person_id }));
      return reply.code(204).send(null);
    },
  );
  app.put(
    '/staff/:person_id/prices-by-hand',
    {
      schema: {
        summary: 'Let a staff member price by hand, or no longer',
        tags,
        params: staffParams,
        body: pricesByHandBody,
        response: { 204: z.null(), ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { person_id: personId } = request.params;
      const { prices_by_hand: pricesByHand } = request.body;
      unwrap(await letPriceByHand(services, actorOf(request), { personId, pricesByHand }));
      return reply.code(204).send(null);
    },
  );
};
