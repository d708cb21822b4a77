import type { FastifyPluginAsync } from 'fastify';
import { quietLink } from '../../../look/buttons.ts';
import { accountPage } from '../../../look/layout.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type VehicleQuery, vehiclesAsked } from '../../work-order/find-vehicles-page.ts';
import { vehicleFinder } from '../../work-order/vehicle-table.ts';

/** The account’s vehicles, by any number that somebody has at hand. */
export const accountVehiclePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<VehicleQuery>('/account/vehicles', async (request, reply) => {
    const asked = await vehiclesAsked(request, options);
    const page = accountPage({
      ...(await frameOf(request, reply, options)),
      title: 'Vehicles',
      heading: 'Vehicles',
      beside: quietLink({ label: 'All work orders', href: '/account/work-orders' }),
      current: 'vehicles',
      body: vehicleFinder({ ...asked, base: '/account' }),
    });
    return sendPage(reply, page, asked.problem === undefined ? undefined : 'invalid_input');
  });
};
