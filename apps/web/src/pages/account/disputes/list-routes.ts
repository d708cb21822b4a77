import type { DisputeId } from '@grainwright/domain';
import { type DisputeView, listDisputes } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { quietLink } from '../../../look/buttons.ts';
import { html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { type Column, emptyState } from '../../../look/tables.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { disputeTable } from '../../billing/dispute-table.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';

const invoice: Column<DisputeView> = {
  header: 'Invoice',
  cell: (row) => html`<a href="/account/invoices/${row.invoiceId}">${row.invoiceNumber}</a>`,
};

/** Everything of the account’s invoices that is or was not agreed with, and what the business said. */
export const accountDisputePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { after?: string } }>('/account/disputes', async (request, reply) => {
    const past = queryId<DisputeId>(request.query.after);
    const asked = { accountId: null, waitingOnly: false, past };
    const { rows, next } = unwrap(await listDisputes(options.services, actorOf(request), asked));
    const frame = await frameOf(request, reply, options);
    const page = accountPage({
      ...frame,
      title: 'Disputes',
      heading: 'Disputes',
      lead: 'What is not agreed with, the longest open first. The rest of each invoice stays due as before.',
      beside: quietLink({ label: 'All invoices', href: '/account/invoices' }),
      current: 'invoices',
      body: html`${disputeTable({
        caption: 'What is not agreed with',
        rows,
        base: null,
        columns: [invoice],
        empty: emptyState('Nothing is in dispute', 'Open an invoice to say what is not right about it.'),
      })}
      ${next !== null && html`<p>${quietLink({ label: 'Newer ones', href: `/account/disputes?after=${next}` })}</p>`}`,
    });
    return sendPage(reply, page);
  });
};
