import type { InvoiceId } from '@grainwright/domain';
import { listInvoices, readInvoice } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pageCursor } from '../../page-cursor.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountInvoicesView, accountInvoiceView } from './view.ts';

export const accountInvoicePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { open?: string; before?: string } }>(
    '/account/invoices',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const openOnly = request.query.open !== undefined;
      const past = pageCursor(request.query.before) ?? null;
      const list = unwrap(
        await listInvoices(services, actorOf(request), { accountId: null, openOnly, past }),
      );
      return sendPage(reply, accountInvoicesView({ frame, list, openOnly }));
    },
  );

  app.get<{ Params: { id: string } }>('/account/invoices/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const id = pathId<InvoiceId>(request.params.id);
    const invoice = unwrap(await readInvoice(services, actorOf(request), id));
    return sendPage(reply, accountInvoiceView({ frame, invoice }));
  });
};
