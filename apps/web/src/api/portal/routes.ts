import {
  chooseReminders,
  handInCertificate,
  listNeeds,
  readOwnAccount,
  readSavings,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerHandedIn, answerNeeds, answerOwnAccount, answerSavings } from './answers.ts';
import {
  handedInAnswer,
  handInBody,
  needsAnswer,
  ownAccountAnswer,
  remindersBody,
  savingsAnswer,
  savingsQuery,
} from './schemas.ts';

const tags = ['Own account'];

/** What an account’s own people ask: what is needed of them, how they stand, what they saved. */
export const portalRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  const { services } = options;
  await app.register(reminderRoutes, options);
  app.get(
    '/account/needs',
    {
      schema: {
        summary: 'What the business needs from your account',
        description: 'Answers, numbers, room on purchase orders, a certificate, a signature; for contacts.',
        tags,
        response: { 200: needsAnswer, ...problemAnswer },
      },
    },
    async (request) => answerNeeds(unwrap(await listNeeds(services, actorOf(request)))),
  );
  app.get(
    '/account',
    {
      schema: {
        summary: 'Your account: people and limits, sites, agreements, papers, terms',
        tags,
        response: { 200: ownAccountAnswer, ...problemAnswer },
      },
    },
    async (request) => answerOwnAccount(unwrap(await readOwnAccount(services, actorOf(request)))),
  );
  app.post(
    '/account/certificates',
    {
      schema: {
        summary: 'Hand in an exemption certificate',
        description: 'It counts once the business has confirmed it.',
        tags,
        body: handInBody,
        response: { 201: handedInAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { valid_from: validFrom, valid_to: validTo, ...certificate } = request.body;
      const input = { ...certificate, validFrom, validTo };
      const handedIn = unwrap(await handInCertificate(services, actorOf(request), input));
      return reply.code(201).send(answerHandedIn(handedIn));
    },
  );
  app.get(
    '/account/savings',
    {
      schema: {
        summary: 'What repairs saved against the new parts that were quoted',
        tags,
        querystring: savingsQuery,
        response: { 200: savingsAnswer, ...problemAnswer },
      },
    },
    async (request) => answerSavings(unwrap(await readSavings(services, actorOf(request), request.query))),
  );
};

const reminderRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.put(
    '/account/reminders',
    {
      schema: {
        summary: 'Choose when your people are asked once more',
        description:
          'For approvers. Twice at most, between 8 in the morning and 6 in the evening of the business.',
        tags,
        body: remindersBody,
        response: { 200: remindersBody, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { remindAfterHours: request.body.remind_after_hours };
      const chosen = unwrap(await chooseReminders(services, actorOf(request), input));
      return { remind_after_hours: chosen.remindAfterHours };
    },
  );
};
