import { addDays } from '@grainwright/domain';
import { readSavings } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryText } from '../../query-text.ts';
import { sendPage } from '../../send-page.ts';
import { savingsView } from './view.ts';

/** What repairs saved against new parts, over the last twelve months unless other days are given. */
export const savingsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { from?: string; to?: string } }>('/account/savings', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const { today } = frame.me;
    const from = queryText(request.query.from) ?? addDays(today, -364);
    const to = queryText(request.query.to) ?? today;
    const savings = await readSavings(options.services, actorOf(request), { from, to });
    const problem = savings.ok ? null : savings.problem;
    const view = savings.ok ? savings.value : null;
    return sendPage(reply, savingsView({ frame, from, to, view, problem }), problem?.code);
  });
};
