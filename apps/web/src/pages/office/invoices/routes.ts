import type { AccountId, InvoiceId } from '@grainwright/domain';
import { listInvoices, readInvoice } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { officeInvoicesView, officeInvoiceView } from './view.ts';

interface Query {
  readonly account?: string;
  readonly open?: string;
  readonly before?: string;
}

export const officeInvoicePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: Query }>('/office/invoices', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const accountId = queryId<AccountId>(request.query.account);
    const openOnly = request.query.open !== undefined;
    const past = queryId<InvoiceId>(request.query.before);
    const list = unwrap(await listInvoices(services, actor, { accountId, openOnly, past }));
    const accounts = await accountChoices(services, actor);
    return sendPage(reply, officeInvoicesView({ frame, list, accounts, account: accountId ?? '', openOnly }));
  });

  app.get<{ Params: { id: string } }>('/office/invoices/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const id = pathId<InvoiceId>(request.params.id);
    const invoice = unwrap(await readInvoice(services, actorOf(request), id));
    return sendPage(reply, officeInvoiceView({ frame, invoice }));
  });
};
