import type { Services } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { finishRoutes } from './finish-routes.ts';
import { startRoutes } from './start-routes.ts';

/** Starting and finishing work. */
export const workRoutes: FastifyPluginAsync<{ services: Services }> = async (app, options) => {
  await app.register(startRoutes, options);
  await app.register(finishRoutes, options);
};
