import type { Services } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { finishRoutes } from './finish-routes.ts';
import { floorRoutes } from './floor-routes.ts';
import { startRoutes } from './start-routes.ts';
import { turnRoutes } from './turn-routes.ts';

/** Starting and finishing work, and what else happens to it. */
export const workRoutes: FastifyPluginAsync<{ services: Services }> = async (app, options) => {
  await app.register(startRoutes, options);
  await app.register(finishRoutes, options);
  await app.register(turnRoutes, options);
  await app.register(floorRoutes, options);
};
