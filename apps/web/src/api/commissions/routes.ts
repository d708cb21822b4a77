import { type CommissionRateId, formatDecimal, type PersonId } from '@grainwright/domain';
import {
  endCommissionRate,
  readCommissionRates,
  type Services,
  setCommissionRate,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { dayText, decimalText, idOf, idText, problemAnswer } from '../schemas.ts';

const tags = ['Commissions'];
const rateId = idOf<CommissionRateId>('commission rate');
const setAnswer = z.object({ id: idText });

export const commissionRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/commission-rates',
    {
      schema: {
        summary: 'What technicians get of the labor of repairs',
        tags,
        response: { 200: ratesAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const rates = unwrap(await readCommissionRates(services, actorOf(request)));
      return {
        rates: rates.map((rate) => ({
          id: rate.id,
          person_id: rate.personId,
          name: rate.name,
          percent: formatDecimal(rate.percent),
          valid_from: rate.validFrom,
          valid_to: rate.validTo,
        })),
      };
    },
  );
  app.post(
    '/commission-rates',
    {
      schema: {
        summary: 'Set a technician’s commission from a day of work on (owner only)',
        tags,
        body: rateBody,
        response: { 201: setAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, person_id: personId, percent, valid_from: validFrom, valid_to: validTo } = request.body;
      const input = { id, personId, percent, validFrom, validTo };
      return reply.code(201).send(unwrap(await setCommissionRate(services, actorOf(request), input)));
    },
  );
  app.post(
    '/commission-rates/:id/end',
    {
      schema: {
        summary: 'Give a commission its last day of work (owner only)',
        tags,
        params: z.object({ id: rateId }),
        body: z.object({ valid_to: dayText }),
        response: { 200: setAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { id: request.params.id, validTo: request.body.valid_to };
      return unwrap(await endCommissionRate(services, actorOf(request), input));
    },
  );
};

const rateBody = z.object({
  id: rateId,
  person_id: idOf<PersonId>('staff member'),
  percent: decimalText,
  valid_from: dayText,
  valid_to: dayText.nullable().default(null),
});

const ratesAnswer = z.object({
  rates: z.array(
    z.object({
      id: idText,
      person_id: idText,
      name: z.string(),
      percent: decimalText,
      valid_from: dayText,
      valid_to: dayText.nullable(),
    }),
  ),
});
