import type { FastifyPluginAsync } from 'fastify';
import type { PageOptions } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { verifyView } from './view.ts';

/** The page that checks an evidence pack, for everybody: nobody has to sign in, and nothing is sent. */
export const verifyPages: FastifyPluginAsync<PageOptions> = async (app, { assets }) => {
  app.get('/verify', async (_request, reply) => sendPage(reply, verifyView(assets.urls)));
};
