import type { InvoiceId } from '@grainwright/domain';
import { listInvoices, readInvoice } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { chosen } from '../../office/account-words.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { ownCertificateWarning } from '../own-certificate-warning.ts';
import { accountInvoicesView, accountInvoiceView, standings } from './view.ts';

export const accountInvoicePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { standing?: string; before?: string } }>(
    '/account/invoices',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const standing = chosen(standings, request.query.standing ?? '');
      const past = queryId<InvoiceId>(request.query.before);
      const asked = { accountId: null, openOnly: false, standing: standing ?? undefined, past };
      const list = unwrap(await listInvoices(services, actorOf(request), asked));
      const certificateWarning = await ownCertificateWarning(request, options);
      return sendPage(reply, accountInvoicesView({ frame, list, standing, certificateWarning }));
    },
  );

  app.get<{ Params: { id: string } }>('/account/invoices/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const id = pathId<InvoiceId>(request.params.id);
    const invoice = unwrap(await readInvoice(services, actorOf(request), id));
    return sendPage(reply, accountInvoiceView({ frame, invoice }));
  });
};
