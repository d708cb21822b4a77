import type { FastifyPluginAsync } from 'fastify';
import type { PageOptions } from '../../person.ts';
import { csvPages } from './csv-routes.ts';
import { editPages } from './edit-routes.ts';
import { endPages } from './end-routes.ts';
import { startPages } from './start-routes.ts';
import { trialPages } from './trial-routes.ts';

/** Price lists in the making: the owner's pages. */
export const officePriceDraftPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  await app.register(startPages, options);
  await app.register(editPages, options);
  await app.register(csvPages, options);
  await app.register(trialPages, options);
  await app.register(endPages, options);
};
