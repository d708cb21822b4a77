import type { AccountId, VehicleId } from '@grainwright/domain';
import { lookUpVehicle, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { dayText, idOf, idText, problemAnswer } from '../schemas.ts';
import { answerEarlierWork } from '../work/earlier-answers.ts';
import { earlierAnswer } from '../work/turn-schemas.ts';

const lookUpQuery = z.object({
  own_number: z.string().max(200).default('').meta({ description: 'The account’s own number for it.' }),
  vin: z.string().max(60).default('').meta({ description: 'The VIN, or its last 8.' }),
  vehicle_id: idOf<VehicleId>('vehicle').optional(),
  day: z.string().max(10).default('').meta({ description: 'The day of work; today where it is left out.' }),
});

const lookUpAnswer = earlierAnswer.extend({
  known: z.array(
    z.object({
      id: idText,
      vehicle: z.string(),
      last_eight: z.string().nullable(),
      own_number: z.string(),
      last_work_order_number: z.string(),
      last_day: dayText,
    }),
  ),
});

export const vehicleLookUpRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/accounts/:id/vehicle-look-up',
    {
      schema: {
        summary: 'What is known of a vehicle before it is written up',
        description: 'Vehicles of the account that it may be, and what was written up of it lately.',
        tags: ['Vehicles'],
        params: z.object({ id: idOf<AccountId>('account') }),
        querystring: lookUpQuery,
        response: { 200: lookUpAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { own_number: ownNumber, vehicle_id: vehicleId, vin, day } = request.query;
      const input = { accountId: request.params.id, ownNumber, vin, vehicleId, day };
      const { known, earlier } = unwrap(await lookUpVehicle(services, actorOf(request), input));
      return {
        known: known.map((each) => ({
          id: each.id,
          vehicle: each.description,
          last_eight: each.lastEight,
          own_number: each.ownNumber,
          last_work_order_number: each.lastWorkOrderNumber.toString(),
          last_day: each.lastDay,
        })),
        earlier: earlier.map(answerEarlierWork),
      };
    },
  );
};
