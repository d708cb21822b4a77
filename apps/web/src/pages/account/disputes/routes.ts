import type { DisputeReason, InvoiceId, Problem } from '@grainwright/domain';
import { openDispute, readInvoice } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { disputeFromForm } from '../../billing/dispute-from-form.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountDisputeFormView } from './view.ts';

/** A contact says of a line of an invoice that it is not agreed with; the answer stands on the invoice's page. */
export const accountDisputeFormPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<OfInvoice>('/account/invoices/:id/dispute', async (request, reply) =>
    sendForm(request, reply, options, { typed: () => '', disputeId: services.newId(), problem: null }),
  );

  app.post<OfInvoice>('/account/invoices/:id/dispute', async (request, reply) => {
    const form = formOf(request);
    const invoiceId = pathId<InvoiceId>(request.params.id);
    const asked = disputeFromForm(form, invoiceId, services.newId(), false);
    const opened = await openDispute(services, actorOf(request), asked);
    if (opened.ok) return reply.redirect(`/account/invoices/${invoiceId}`, 303);
    const typed = (name: string) => form.text(name);
    const { disputeId } = asked;
    return sendForm(request, reply, options, { typed, disputeId, problem: opened.problem });
  });
};

interface OfInvoice {
  Params: { id: string };
}

const contactReasons: readonly DisputeReason[] = ['disputed', 'error'];

async function sendForm(
  request: FastifyRequest<OfInvoice>,
  reply: FastifyReply,
  options: PageOptions,
  shown: {
    readonly typed: (name: string) => string;
    readonly disputeId: string;
    readonly problem: Problem | null;
  },
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'dispute_invoice');
  const id = pathId<InvoiceId>(request.params.id);
  const invoice = unwrap(await readInvoice(options.services, actorOf(request), id));
  const action = `/account/invoices/${id}/dispute`;
  const page = accountDisputeFormView({
    ...shown,
    frame,
    invoice,
    action,
    reasons: contactReasons,
    dated: false,
  });
  return sendPage(reply, page, shown.problem?.code);
}
