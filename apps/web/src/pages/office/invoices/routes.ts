import {
  type AccountId,
  type InvoiceId,
  isUuid,
  type Problem,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { issueInvoice, listInvoices, listReadyToInvoice, readInvoice } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pageCursor } from '../../page-cursor.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { officeInvoicesView, officeInvoiceView, readyView } from './view.ts';

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
    const past = pageCursor(request.query.before) ?? null;
    const list = unwrap(await listInvoices(services, actor, { accountId, openOnly, past }));
    const accounts = await accountChoices(services, actor);
    return sendPage(reply, officeInvoicesView({ frame, list, accounts, account: accountId ?? '', openOnly }));
  });

  app.get('/office/invoices/ready', async (request, reply) => sendReady(request, reply, options, null));

  app.post('/office/invoices', async (request, reply) => {
    const form = formOf(request);
    const sent = form.text('invoice_id');
    const issued = await issueInvoice(services, actorOf(request), {
      invoiceId: toId<InvoiceId>(isUuid(sent) ? sent : services.newId()),
      workOrderIds: form
        .all('work_order_ids')
        .filter(isUuid)
        .map((id) => toId<WorkOrderId>(id)),
    });
    if (!issued.ok) return sendReady(request, reply, options, issued.problem);
    return reply.redirect(`/office/invoices/${issued.value.id}`, 303);
  });

  app.get<{ Params: { id: string } }>('/office/invoices/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const id = pathId<InvoiceId>(request.params.id);
    const invoice = unwrap(await readInvoice(services, actorOf(request), id));
    return sendPage(reply, officeInvoiceView({ frame, invoice }));
  });
};

/** What waits for an invoice; with a problem, what stood in the way of one. */
async function sendReady(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  problem: Problem | null,
): Promise<FastifyReply> {
  const { services } = options;
  const frame = await frameOf(request, reply, options);
  const visits = unwrap(await listReadyToInvoice(services, actorOf(request)));
  return sendPage(reply, readyView({ frame, visits, newId: services.newId, problem }), problem?.code);
}
