import type { FastifyPluginAsync } from 'fastify';
import { officePage } from '../../../look/layout.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type VehicleQuery, vehiclesAsked } from '../../work-order/find-vehicles-page.ts';
import { vehicleFinder } from '../../work-order/vehicle-table.ts';

/** Vehicles of every account; for a technician those of the own visits. */
export const officeVehiclePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<VehicleQuery>('/office/vehicles', async (request, reply) => {
    const asked = await vehiclesAsked(request, options);
    const page = officePage({
      ...(await frameOf(request, reply, options)),
      title: 'Vehicles',
      heading: 'Vehicles',
      wide: true,
      current: 'vehicles',
      body: vehicleFinder({ ...asked, base: '/office' }),
    });
    return sendPage(reply, page, asked.problem === undefined ? undefined : 'invalid_input');
  });
};
