import type { AccountId } from '@grainwright/domain';
import { findVehicles, type Services, type VehicleView } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { dayText, idOf, idText, problemAnswer } from '../schemas.ts';

const vehiclesQuery = z.object({
  text: z.string().max(200).default('').meta({
    description:
      'A VIN, its last 8, part of an RO, PO or own number or of the owner’s name, or a work order’s number.',
  }),
  account_id: idOf<AccountId>('account').optional(),
  below: z
    .string()
    .regex(/^\d{1,15}$/)
    .optional()
    .meta({ description: '`next` of the page before.' }),
});

const vehicle = z
  .object({
    account_id: idText,
    account_name: z.string(),
    vehicle: z.string(),
    vin: z.string().nullable(),
    last_eight: z.string().nullable(),
    owner_name: z.string(),
    before_photo_id: idText.nullable(),
    after_photo_id: idText.nullable(),
    work_orders: z.array(
      z.object({
        id: idText,
        number: z.string(),
        state: z.string(),
        rework: z.boolean(),
        day: dayText,
        numbers: z.string(),
        invoice: z.object({ id: idText, number: z.string() }).nullable(),
      }),
    ),
  })
  .meta({ id: 'Vehicle' });

const vehiclesAnswer = z.object({ vehicles: z.array(vehicle), next: z.string().nullable() });

export const vehicleRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/vehicles',
    {
      schema: {
        summary: 'Find vehicles by any of their numbers, with all that was done on them',
        description: 'Technicians find those of their own visits, contacts those of their account.',
        tags: ['Vehicles'],
        querystring: vehiclesQuery,
        response: { 200: vehiclesAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { text, account_id: accountId = null, below } = request.query;
      const page = below === undefined ? undefined : BigInt(below);
      const list = await findVehicles(services, actorOf(request), { text, accountId, below: page });
      const { rows, next } = unwrap(list);
      return { vehicles: rows.map(answerVehicle), next: next?.toString() ?? null };
    },
  );
};

function answerVehicle(view: VehicleView): z.input<typeof vehicle> {
  return {
    account_id: view.accountId,
    account_name: view.accountName,
    vehicle: view.vehicle,
    vin: view.vin,
    last_eight: view.lastEight,
    owner_name: view.ownerName,
    before_photo_id: view.before,
    after_photo_id: view.after,
    work_orders: view.workOrders.map((work) => ({
      id: work.id,
      number: work.number.toString(),
      state: work.state,
      rework: work.isRework,
      day: work.day,
      numbers: work.numbers,
      invoice: work.invoice,
    })),
  };
}
