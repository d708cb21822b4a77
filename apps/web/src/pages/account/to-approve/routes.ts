import { listToApprove } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pageCursor } from '../../page-cursor.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { toApproveView } from './view.ts';

export const toApprovePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { after?: string } }>('/account/to-approve', async (request, reply) => {
    const after = pageCursor(request.query.after);
    const list = unwrap(await listToApprove(options.services, actorOf(request), { after }));
    return sendPage(reply, toApproveView(await frameOf(request, reply, options), list));
  });
};
