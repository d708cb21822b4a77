import { listWorkOrders } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { readListFilter } from '../../work-order/list-filter.ts';
import { ownCertificateWarning } from '../own-certificate-warning.ts';
import { accountWorkOrdersView } from './view.ts';

export const accountWorkOrdersPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get('/account/work-orders', async (request, reply) => {
    const certificateWarning = await ownCertificateWarning(request, options);
    const filter = readListFilter(request.query);
    const list = await listWorkOrders(options.services, actorOf(request), {
      waitsFor: filter.waitsFor ?? undefined,
      text: filter.text,
      below: filter.below,
    });
    const frame = await frameOf(request, reply, options);
    if (list.ok)
      return sendPage(
        reply,
        accountWorkOrdersView({ frame, filter, list: list.value, problem: null, certificateWarning }),
      );
    if (list.problem.field !== 'text') return unwrap(list);
    const empty = { currency: frame.me.business.currency, rows: [], next: null };
    return sendPage(
      reply,
      accountWorkOrdersView({ frame, filter, list: empty, problem: list.problem, certificateWarning }),
      list.problem.code,
    );
  });
};
