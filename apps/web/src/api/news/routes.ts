import { listNews, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { wantsStream } from '../../plugins/news-streams.ts';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerNews, newsAnswer, newsQuery } from './schemas.ts';

/** What is new for whoever works at vehicles. */
export const newsRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/news',
    {
      schema: {
        summary: 'What others did about the vehicles of your own visits',
        description:
          'Asked with `Accept: text/event-stream` it stays open and tells each as it happens, as an event `news` whose data is one of these. A stream ends after ten minutes at most; `Last-Event-ID` goes on where it ended.',
        tags: ['Work orders'],
        querystring: newsQuery,
        response: { 200: newsAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { since } = request.query;
      if (wantsStream(request)) return app.streamNews(request, reply, since);
      const { news, until } = unwrap(await listNews(services, actorOf(request), { since }));
      return { news: news.map(answerNews), until };
    },
  );
};
