import { listNeeds } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { needsView } from './view.ts';

/** Where an account’s people start: what the business needs from them. */
export const needsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get('/account', async (request, reply) => {
    const needs = unwrap(await listNeeds(options.services, actorOf(request)));
    return sendPage(reply, needsView(await frameOf(request, reply, options), needs));
  });
};
