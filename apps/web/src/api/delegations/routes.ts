import {
  endDelegation,
  nameDelegate,
  readMe,
  recordDelegation,
  type Services,
} from '@grainwright/operations';
import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { accountParams } from '../accounts/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import {
  answerDelegation,
  delegationAnswer,
  delegationParams,
  nameDelegateBody,
  recordDelegationBody,
} from './schemas.ts';

/** Who answers for an approver who is away. They are listed with the account. */
export const delegationRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  const currencyOf = async (request: FastifyRequest) =>
    unwrap(await readMe(services, actorOf(request))).business.currency;

  app.post(
    '/account/delegations',
    {
      schema: {
        summary: 'Let somebody of your account answer for you while you are away',
        description: 'For approvers. Never for more than you may approve yourself; nobody hands it on.',
        tags: ['Own account'],
        body: nameDelegateBody,
        response: { 201: delegationAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, to_person_id: toPersonId, valid_from, valid_to, limit } = request.body;
      const input = { id, toPersonId, validFrom: valid_from, validTo: valid_to, limit };
      const named = unwrap(await nameDelegate(services, actorOf(request), input));
      return reply.code(201).send(answerDelegation(named, await currencyOf(request)));
    },
  );
  app.post(
    '/accounts/:id/delegations',
    {
      schema: {
        summary: 'Write down who answers for an approver of an account',
        tags: ['Accounts'],
        params: accountParams,
        body: recordDelegationBody,
        response: { 201: delegationAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, from_person_id, to_person_id, valid_from, valid_to, limit } = request.body;
      const people = { fromPersonId: from_person_id, toPersonId: to_person_id };
      const input = {
        id,
        accountId: request.params.id,
        ...people,
        validFrom: valid_from,
        validTo: valid_to,
        limit,
      };
      const recorded = unwrap(await recordDelegation(services, actorOf(request), input));
      return reply.code(201).send(answerDelegation(recorded, await currencyOf(request)));
    },
  );
  app.post(
    '/delegations/:id/end',
    {
      schema: {
        summary: 'Take a delegation back, from now on',
        description: 'By whoever is away, their delegate or the staff. What was answered stays answered.',
        tags: ['Accounts'],
        params: delegationParams,
        response: { 200: delegationAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const ended = unwrap(await endDelegation(services, actorOf(request), request.params.id));
      return answerDelegation(ended, await currencyOf(request));
    },
  );
};
