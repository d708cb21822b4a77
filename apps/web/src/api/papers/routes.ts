import type { CreditNoteId, InvoiceId } from '@grainwright/domain';
import { openCreditNotePdf, openInvoicePdf, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { idOf, problemAnswer } from '../schemas.ts';

const file = z.string().meta({ description: 'A PDF.' });

/** Invoices and credit notes as PDF. */
export const paperRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/invoices/:id/invoice.pdf',
    {
      schema: {
        summary: 'An invoice as PDF, with pictures before and after',
        tags: ['Invoices'],
        params: z.object({ id: idOf<InvoiceId>('invoice') }),
        produces: ['application/pdf'],
        response: { 200: file, ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendFile(reply, unwrap(await openInvoicePdf(services, actorOf(request), request.params.id))),
  );
  app.get(
    '/credit-notes/:id/credit-note.pdf',
    {
      schema: {
        summary: 'A credit note as PDF',
        tags: ['Credit notes'],
        params: z.object({ id: idOf<CreditNoteId>('credit note') }),
        produces: ['application/pdf'],
        response: { 200: file, ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendFile(reply, unwrap(await openCreditNotePdf(services, actorOf(request), request.params.id))),
  );
};
