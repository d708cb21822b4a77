import {
  addAccountPrice,
  addCareFactor,
  addContract,
  addRates,
  addTaxArea,
  addTier,
  addTierPrice,
  endPrice,
  readPriceBook,
  type Services,
  setPriceTerms,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerPriceBook } from './answers.ts';
import { ratesOf, taxAreaOf, termsOf, tierOf } from './bodies.ts';
import { draftRoutes } from './draft-routes.ts';
import { periodRoutes } from './period-routes.ts';
import {
  addAccountPriceBody,
  addContractBody,
  addFactorBody,
  addRatesBody,
  addTaxAreaBody,
  addTierBody,
  addTierPriceBody,
  codeAnswer,
  endPriceBody,
  idAnswer,
  idsAnswer,
  priceBookAnswer,
  priceParams,
  setTermsBody,
} from './schemas.ts';

const tags = ['Price book'];
const endedKinds = {
  rates: 'rate',
  'account-prices': 'account_price',
  'tier-prices': 'tier_price',
  contracts: 'contract',
} as const;

export const priceBookRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/price-book',
    {
      schema: { summary: 'Read the price book', tags, response: { 200: priceBookAnswer, ...problemAnswer } },
    },
    async (request) => answerPriceBook(unwrap(await readPriceBook(services, actorOf(request)))),
  );
  app.post(
    '/price-book/rates',
    {
      schema: {
        summary: 'Add rates',
        tags,
        body: addRatesBody,
        response: { 201: idsAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const rates = ratesOf(request.body);
      const { ids } = unwrap(await addRates(services, actorOf(request), { rates }));
      return reply.code(201).send({ ids: [...ids] });
    },
  );
  app.post(
    '/price-book/:kind/:id/end',
    {
      schema: {
        summary: 'Give a price its last day',
        tags,
        params: priceParams,
        body: endPriceBody,
        response: { 200: idAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { kind, id } = request.params;
      const input = { kind: endedKinds[kind], id, validTo: request.body.valid_to };
      return unwrap(await endPrice(services, actorOf(request), input));
    },
  );
  await app.register(ownPriceRoutes, { services });
  await app.register(ruleRoutes, { services });
  await app.register(periodRoutes, { services });
  await app.register(draftRoutes, { services });
};

/** What accounts and tiers pay beside list and discount. */
const ownPriceRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/price-book/account-prices',
    {
      schema: {
        summary: 'Give an account its own price',
        tags,
        body: addAccountPriceBody,
        response: { 201: idAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { account_id: accountId, valid_from: validFrom, valid_to: validTo, ...price } = request.body;
      const input = { accountId, validFrom, validTo, ...price };
      return reply.code(201).send(unwrap(await addAccountPrice(services, actorOf(request), input)));
    },
  );
  app.post(
    '/price-book/tier-prices',
    {
      schema: {
        summary: 'Give a tier its own price',
        tags,
        body: addTierPriceBody,
        response: { 201: idAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { tier: tierCode, valid_from: validFrom, valid_to: validTo, ...price } = request.body;
      const input = { tierCode, validFrom, validTo, ...price };
      return reply.code(201).send(unwrap(await addTierPrice(services, actorOf(request), input)));
    },
  );
  app.post(
    '/price-book/contracts',
    {
      schema: {
        summary: 'Make a contract with an account',
        tags,
        body: addContractBody,
        response: { 201: idAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { account_id: accountId, discount_percent: discountPercent, ...rest } = request.body;
      const { valid_from: validFrom, valid_to: validTo, ...contract } = rest;
      const input = { accountId, discountPercent, validFrom, validTo, ...contract };
      return reply.code(201).send(unwrap(await addContract(services, actorOf(request), input)));
    },
  );
};

/** Tiers, factors, terms and places: what the price rules are set up with. */
const ruleRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/price-book/tiers',
    {
      schema: {
        summary: 'Add a tier',
        tags,
        body: addTierBody,
        response: { 201: codeAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const tier = tierOf(request.body);
      return reply.code(201).send(unwrap(await addTier(services, actorOf(request), tier)));
    },
  );
  app.post(
    '/price-book/care-factors',
    {
      schema: {
        summary: 'Add a care factor',
        tags,
        body: addFactorBody,
        response: { 201: codeAnswer, ...problemAnswer },
      },
    },
    async (request, reply) =>
      reply.code(201).send(unwrap(await addCareFactor(services, actorOf(request), request.body))),
  );
  app.post(
    '/price-book/terms',
    {
      schema: {
        summary: 'Set the price terms',
        tags,
        body: setTermsBody,
        response: { 201: idAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const terms = termsOf(request.body);
      return reply.code(201).send(unwrap(await setPriceTerms(services, actorOf(request), terms)));
    },
  );
  app.post(
    '/price-book/tax-areas',
    {
      schema: {
        summary: 'Add a tax area',
        tags,
        body: addTaxAreaBody,
        response: { 201: idAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const area = taxAreaOf(request.body);
      return reply.code(201).send(unwrap(await addTaxArea(services, actorOf(request), area)));
    },
  );
};
