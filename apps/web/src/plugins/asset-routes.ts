import type { FastifyPluginAsync } from 'fastify';
import type { Assets } from '../look/assets.ts';

/** The stylesheet and browser modules. Their addresses change with their content, so they may be kept for good. */
export const assetRoutes: FastifyPluginAsync<{ assets: Assets }> = async (app, { assets }) => {
  for (const [path, asset] of assets.files)
    app.get(path, async (request, reply) => {
      reply.header('cache-control', 'public, max-age=31536000, immutable').header('etag', asset.etag);
      if (request.headers['if-none-match'] === asset.etag) return reply.code(304).send();
      return reply.type(asset.type).send(asset.body);
    });
  app.get('/favicon.ico', async (_request, reply) => reply.code(204).send());
};
