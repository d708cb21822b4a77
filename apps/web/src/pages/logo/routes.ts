import { openLogo } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { actorOf } from '../../plugins/session.ts';
import type { PageOptions } from '../person.ts';

/** The logo on documents, for staff and contacts alike. */
export const logoPages: FastifyPluginAsync<PageOptions> = async (app, { services }) => {
  app.get('/logo', async (request, reply) =>
    sendPhoto(reply, unwrap(await openLogo(services, actorOf(request), heldDigest(request)))),
  );
};
