import { countWaiting, listWorkOrders } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { readListFilter } from '../../work-order/list-filter.ts';
import { accountChoices } from '../account-choices.ts';
import { officeWorkOrdersView } from './view.ts';

/** Every work order, newest first, with how many wait for what. */
export const officeWorkOrdersPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get('/office/work-orders', async (request, reply) => {
    const { services } = options;
    const actor = actorOf(request);
    const filter = readListFilter(request.query);
    const accountId = filter.accountId ?? undefined;
    const technicianId = filter.technicianId ?? undefined;
    const list = await listWorkOrders(services, actor, {
      waitsFor: filter.waitsFor ?? undefined,
      accountId,
      technicianId,
      text: filter.text,
      below: filter.below,
    });
    if (!list.ok && list.problem.field !== 'text') return unwrap(list);
    const frame = await frameOf(request, reply, options);
    const page = {
      frame,
      filter,
      counts: unwrap(await countWaiting(services, actor, { accountId, technicianId })),
      accounts: await accountChoices(services, actor),
      list: list.ok ? list.value : { currency: frame.me.business.currency, rows: [], next: null },
      problem: list.ok ? null : list.problem,
    };
    return sendPage(reply, officeWorkOrdersView(page), page.problem?.code);
  });
};
