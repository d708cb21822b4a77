import {
  addAccount,
  addCertificate,
  addSite,
  changeAccount,
  listAccounts,
  readAccount,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { agreementRoutes } from './agreement-routes.ts';
import { answerAccount, answerList } from './answers.ts';
import { changesOf, termsOf } from './bodies.ts';
import { contactRoutes } from './contact-routes.ts';
import {
  accountAnswer,
  accountListAnswer,
  accountParams,
  addAccountBody,
  addCertificateBody,
  addedAnswer,
  addSiteBody,
  changeAccountBody,
  listQuery,
} from './schemas.ts';

const tags = ['Accounts'];

export const accountRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/accounts',
    {
      schema: {
        summary: 'List accounts',
        tags,
        querystring: listQuery,
        response: { 200: accountListAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { search, with_ended, after } = request.query;
      return answerList(
        unwrap(
          await listAccounts(services, actorOf(request), { search, withEnded: with_ended === 'true', after }),
        ),
      );
    },
  );
  app.post(
    '/accounts',
    {
      schema: {
        summary: 'Open an account',
        tags,
        body: addAccountBody,
        response: { 201: accountAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { id, opened_on: openedOn, ...body } = request.body;
      unwrap(await addAccount(services, actor, { id, openedOn, ...termsOf(body) }));
      return reply.code(201).send(answerAccount(unwrap(await readAccount(services, actor, id))));
    },
  );
  app.get(
    '/accounts/:id',
    {
      schema: {
        summary: 'Read an account',
        tags,
        params: accountParams,
        response: { 200: accountAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerAccount(unwrap(await readAccount(services, actorOf(request), request.params.id))),
  );
  await app.register(agreementRoutes, { services });
  await app.register(contactRoutes, { services });
  await app.register(changeRoutes, { services });
};

/** What changes an account, or is added to it. */
const changeRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.patch(
    '/accounts/:id',
    {
      schema: {
        summary: 'Change an account',
        tags,
        params: accountParams,
        body: changeAccountBody,
        response: { 200: accountAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const { id } = request.params;
      unwrap(await changeAccount(services, actor, { id, ...changesOf(request.body) }));
      return answerAccount(unwrap(await readAccount(services, actor, id)));
    },
  );
  app.post(
    '/accounts/:id/sites',
    {
      schema: {
        summary: 'Add a site',
        tags,
        params: accountParams,
        body: addSiteBody,
        response: { 201: addedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const added = await addSite(services, actorOf(request), {
        accountId: request.params.id,
        ...request.body,
      });
      return reply.code(201).send(unwrap(added));
    },
  );
  app.post(
    '/accounts/:id/certificates',
    {
      schema: {
        summary: 'File an exemption certificate',
        tags,
        params: accountParams,
        body: addCertificateBody,
        response: { 201: addedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { valid_from: validFrom, valid_to: validTo, ...certificate } = request.body;
      const input = { accountId: request.params.id, ...certificate, validFrom, validTo };
      return reply.code(201).send(unwrap(await addCertificate(services, actorOf(request), input)));
    },
  );
};
