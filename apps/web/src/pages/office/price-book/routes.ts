import { parseDay } from '@grainwright/domain';
import { readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { officePriceDraftPages } from '../price-drafts/routes.ts';
import { newRatePages } from './new-rate.ts';
import { newTierPricePages } from './new-tier-price.ts';
import { pricePeriodPages } from './period-routes.ts';
import { priceEndPages } from './price-end.ts';
import { taxAreaPages } from './tax-area-routes.ts';
import { priceTermsPages } from './terms.ts';
import { priceBookView } from './view.ts';

export const officePriceBookPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { on?: string } }>('/office/price-book', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const asked = parseDay(String(request.query.on ?? ''), 'on');
    const input = { on: asked.ok ? asked.value : null };
    const book = unwrap(await readPriceBook(options.services, actorOf(request), input));
    return sendPage(reply, priceBookView({ frame, book }));
  });
  await app.register(officePriceDraftPages, options);
  await app.register(newRatePages, options);
  await app.register(newTierPricePages, options);
  await app.register(pricePeriodPages, options);
  await app.register(taxAreaPages, options);
  await app.register(priceTermsPages, options);
  await app.register(priceEndPages, options);
};
