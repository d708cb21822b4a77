import { parseDay } from '@grainwright/domain';
import { readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { priceBookView } from './view.ts';

export const officePriceBookPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { on?: string } }>('/office/price-book', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const book = unwrap(await readPriceBook(options.services, actorOf(request)));
    const asked = parseDay(String(request.query.on ?? ''), 'on');
    return sendPage(reply, priceBookView({ frame, book, on: asked.ok ? asked.value : book.today }));
  });
};
