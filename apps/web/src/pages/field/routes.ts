import type { FastifyPluginAsync } from 'fastify';
import { acceptancePages } from './acceptance/routes.ts';
import { fieldAnswerPages } from './answer/routes.ts';
import { finishPages } from './finish/routes.ts';
import { keyTestPages } from './key-test/routes.ts';
import { fieldLinePages } from './line/routes.ts';
import { notSignedPages } from './not-signed/routes.ts';
import { notTherePages } from './not-there/routes.ts';
import { fieldPhotoPages, type PhotoPageOptions } from './photos/routes.ts';
import { reworkPages } from './rework/routes.ts';
import { startPages } from './start/routes.ts';
import { stopPointPages } from './stop-points/routes.ts';
import { todayPages } from './today/routes.ts';
import { visitAcceptancePages } from './visit-acceptance/routes.ts';
import { fieldWorkOrderPages } from './work-order/routes.ts';
import { writeUpPages } from './write-up/routes.ts';

/** Every page at the vehicle. */
export const fieldPages: FastifyPluginAsync<PhotoPageOptions> = async (app, options) => {
  await app.register(acceptancePages, options);
  await app.register(fieldAnswerPages, options);
  await app.register(finishPages, options);
  await app.register(keyTestPages, options);
  await app.register(fieldLinePages, options);
  await app.register(notSignedPages, options);
  await app.register(notTherePages, options);
  await app.register(fieldPhotoPages, options);
  await app.register(reworkPages, options);
  await app.register(startPages, options);
  await app.register(stopPointPages, options);
  await app.register(todayPages, options);
  await app.register(visitAcceptancePages, options);
  await app.register(fieldWorkOrderPages, options);
  await app.register(writeUpPages, options);
};
