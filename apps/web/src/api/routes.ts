import swagger from '@fastify/swagger';
import type { Services } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { acceptanceRoutes } from './acceptance/routes.ts';
import { accountRoutes } from './accounts/routes.ts';
import { decisionRoutes } from './decisions/routes.ts';
import { invoiceRoutes } from './invoices/routes.ts';
import { paymentRoutes } from './payments/routes.ts';
import { photoRoutes } from './photos/routes.ts';
import { priceBookRoutes } from './price-book/routes.ts';
import { sessionRoutes } from './sessions/routes.ts';
import { staffRoutes } from './staff/routes.ts';
import { statementRoutes } from './statements/routes.ts';
import { workRoutes } from './work/routes.ts';
import { workOrderRoutes } from './work-orders/routes.ts';

export interface ApiOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
}

/** Every area of the API, and its description in OpenAPI. */
export const apiRoutes: FastifyPluginAsync<ApiOptions> = async (
  app,
  { services, temporaryFolder, photoBytesMax },
) => {
  // Not the options as they came: they carry this scope's prefix, which would count once more.
  const options: ApiOptions = { services, temporaryFolder, photoBytesMax };
  await app.register(swagger, description);
  app.get('/openapi.json', { schema: { hide: true } }, async () => app.swagger());
  await app.register(acceptanceRoutes, options);
  await app.register(accountRoutes, options);
  await app.register(decisionRoutes, options);
  await app.register(invoiceRoutes, options);
  await app.register(paymentRoutes, options);
  await app.register(statementRoutes, options);
  await app.register(photoRoutes, options);
  await app.register(priceBookRoutes, options);
  await app.register(sessionRoutes, options);
  await app.register(staffRoutes, options);
  await app.register(workOrderRoutes, options);
  await app.register(workRoutes, options);
};

const description = {
  openapi: {
    openapi: '3.1.0',
    info: {
      title: 'Grainwright',
      version: '1',
      description: 'Work orders, evidence, approvals, invoices and statements.',
    },
    components: { securitySchemes: { session: { type: 'http' as const, scheme: 'bearer' } } },
    security: [{ session: [] }],
  },
  transform: jsonSchemaTransform,
  transformObject: jsonSchemaTransformObject,
};
