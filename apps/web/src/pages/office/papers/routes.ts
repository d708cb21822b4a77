import type { CreditNoteId, InvoiceId } from '@grainwright/domain';
import { openCreditNotePdf, openInvoicePdf } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';

interface Asked {
  readonly Params: { readonly id: string };
}

/** Invoices and credit notes as PDF. */
export const officePapers: FastifyPluginAsync<PageOptions> = async (app, { services }) => {
  app.get<Asked>('/office/invoices/:id/invoice.pdf', async (request, reply) => {
    const id = pathId<InvoiceId>(request.params.id);
    return sendFile(reply, unwrap(await openInvoicePdf(services, actorOf(request), id)));
  });

  app.get<Asked>('/office/credit-notes/:id/credit-note.pdf', async (request, reply) => {
    const id = pathId<CreditNoteId>(request.params.id);
    return sendFile(reply, unwrap(await openCreditNotePdf(services, actorOf(request), id)));
  });
};
