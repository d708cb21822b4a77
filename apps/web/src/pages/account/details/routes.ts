import { readOwnAccount } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { detailsView } from './view.ts';

/** The account itself: its people and their limits, its papers, its sites and terms. */
export const accountDetailsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get('/account/details', async (request, reply) => {
    const view = unwrap(await readOwnAccount(options.services, actorOf(request)));
    return sendPage(reply, detailsView(await frameOf(request, reply, options), view));
  });
};
