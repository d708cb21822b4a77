import { listNews } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { answerNews } from '../../../api/news/schemas.ts';
import { wantsStream } from '../../../plugins/news-streams.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { newsView } from './view.ts';

interface Asked {
  Querystring: { since?: string | string[] };
}

/** What is new on one's own vehicles: as a page, as it happens for the browser's module, or as a list for it to ask again. */
export const fieldNewsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<Asked>('/field/news', async (request, reply) => {
    const since = [request.query.since ?? []].flat().at(-1);
    if (wantsStream(request)) return app.streamNews(request, reply, since);
    const { news } = unwrap(await listNews(options.services, actorOf(request), { since }));
    return sendPage(reply, newsView(await frameOf(request, reply, options), news));
  });

  app.get<Asked>('/field/news.json', async (request, reply) => {
    // As a stream does, it begins with now: what is older stands on the page.
    const since = [request.query.since ?? []].flat().at(-1) ?? options.services.now();
    const { news, until } = unwrap(await listNews(options.services, actorOf(request), { since }));
    return reply.header('cache-control', 'no-store').send({ news: news.map(answerNews), until });
  });
};
