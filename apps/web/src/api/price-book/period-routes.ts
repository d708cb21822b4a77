import {
  addTaxRate,
  changeCareFactor,
  changeRate,
  changeTier,
  type Services,
  setTaxableClasses,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { tierLimitsOf } from './bodies.ts';
import {
  addTaxRateBody,
  changeFactorBody,
  changeRateBody,
  changeTierBody,
  codeParams,
  idAnswer,
  setClassesBody,
} from './schemas.ts';

const tags = ['Price book'];
const params = codeParams;
const response = { 201: idAnswer, ...problemAnswer };

/** What follows on what is in the price book, from a day on. */
export const periodRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/price-book/rates/:code/periods',
    { schema: { summary: 'Change a rate from a day on', tags, params, body: changeRateBody, response } },
    async (request, reply) => {
      const { id, repair, list, materials_percent: materialsPercent, valid_from: validFrom } = request.body;
      const input = { id, code: request.params.code, repair, list, materialsPercent, validFrom };
      return reply.code(201).send(unwrap(await changeRate(services, actorOf(request), input)));
    },
  );
  app.post(
    '/price-book/tiers/:code/periods',
    { schema: { summary: 'Change a tier from a day on', tags, params, body: changeTierBody, response } },
    async (request, reply) => {
      const { body } = request;
      const input = {
        id: body.id,
        code: request.params.code,
        discountPercent: body.discount_percent,
        ...tierLimitsOf(body),
        validFrom: body.valid_from,
      };
      return reply.code(201).send(unwrap(await changeTier(services, actorOf(request), input)));
    },
  );
  app.post(
    '/price-book/care-factors/:code/periods',
    {
      schema: {
        summary: 'Change a care factor from a day on',
        tags,
        params,
        body: changeFactorBody,
        response,
      },
    },
    async (request, reply) => {
      const { id, percent, valid_from: validFrom } = request.body;
      const input = { id, code: request.params.code, percent, validFrom };
      return reply.code(201).send(unwrap(await changeCareFactor(services, actorOf(request), input)));
    },
  );
  app.post(
    '/price-book/tax-areas/:code/rates',
    { schema: { summary: 'Set a tax rate from a day on', tags, params, body: addTaxRateBody, response } },
    async (request, reply) => {
      const { id, component, rate_percent: ratePercent, valid_from: validFrom } = request.body;
      const input = { id, areaCode: request.params.code, component, ratePercent, validFrom };
      return reply.code(201).send(unwrap(await addTaxRate(services, actorOf(request), input)));
    },
  );
  app.post(
    '/price-book/tax-areas/:code/classes',
    {
      schema: {
        summary: 'Set what a place taxes from a day on',
        tags,
        params,
        body: setClassesBody,
        response,
      },
    },
    async (request, reply) => {
      const { id, taxable, valid_from: validFrom } = request.body;
      const input = { id, areaCode: request.params.code, taxable, validFrom };
      return reply.code(201).send(unwrap(await setTaxableClasses(services, actorOf(request), input)));
    },
  );
};
