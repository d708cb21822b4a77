import { listToday } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { todayPage } from './view.ts';

/** The start page of whoever works at vehicles. */
export const todayPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { day?: string | string[] } }>('/field', async (request, reply) => {
    const day = [request.query.day ?? ''].flat().at(-1);
    const today = unwrap(await listToday(options.services, actorOf(request), { day }));
    return sendPage(reply, todayPage({ frame: await frameOf(request, reply, options), today }));
  });
};
