import { readiness, type Services } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';

/** `/healthz`: the process is there. `/readyz`: it can work, that is, database and storage answer and the migrations are applied. */
export const healthRoutes: FastifyPluginAsync<{ services: Services }> = async (app, { services }) => {
  app.get('/healthz', async () => ({ status: 'up' }));
  app.get('/readyz', async (_request, reply) => {
    const ready = await readiness(services);
    const all = Object.values(ready).every(Boolean);
    return reply.code(all ? 200 : 503).send({ status: all ? 'ready' : 'not ready', ...ready });
  });
};
