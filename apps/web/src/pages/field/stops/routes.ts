import type { VisitId } from '@grainwright/domain';
import { readStop } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { stopPage } from './view.ts';

/** One stop of the day. */
export const stopPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Params: { visitId: string } }>('/field/stops/:visitId', async (request, reply) => {
    const visitId = pathId<VisitId>(request.params.visitId);
    const stop = unwrap(await readStop(options.services, actorOf(request), visitId));
    return sendPage(reply, stopPage({ frame: await frameOf(request, reply, options), stop }));
  });
};
