import {
  type CreditNoteId,
  formatMinor,
  type InvoiceId,
  isUuid,
  type Problem,
  toId,
} from '@grainwright/domain';
import {
  type CreditPreview,
  issueCreditNote,
  previewCreditNote,
  readCreditable,
  readCreditNote,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { asFormProblem, askedCredit } from './form-values.ts';
import { creditFormView, issuingField } from './view.ts';

/** Credits an invoice: first what it comes to is shown, then it is issued. */
export const creditFormPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<OfInvoice>('/office/invoices/:id/credit', async (request, reply) =>
    sendForm(request, reply, options, null, { preview: null, changed: false, problem: null }),
  );

  app.post<OfInvoice>('/office/invoices/:id/credit', async (request, reply) =>
    creditFromForm(request, reply, options, formOf(request)),
  );
};

interface OfInvoice {
  Params: { id: string };
}

type InvoiceRequest = FastifyRequest<OfInvoice>;

async function creditFromForm(
  request: InvoiceRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: FormValues,
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const invoiceId = pathId<InvoiceId>(request.params.id);
  const creditNoteId = toId<CreditNoteId>(creditNoteIdOf(form, options));
  const issuing = form.text(issuingField) !== '';
  // Pressed twice: what it asks for is done.
  const before = issuing ? await readCreditNote(services, actor, creditNoteId) : null;
  if (before?.ok) return reply.redirect(`/office/credit-notes/${creditNoteId}`, 303);
  const creditable = unwrap(await readCreditable(services, actor, invoiceId));
  const asked = {
    invoiceId,
    reason: form.text('reason'),
    ...askedCredit(form, creditable),
    issuedOn: form.text('issued_on'),
    apply: form.checked('apply'),
  };
  const refuse = (problem: Problem, preview: CreditPreview | null) =>
    sendForm(request, reply, options, form, {
      preview,
      changed: false,
      problem: asFormProblem(problem, asked.lines),
    });
  const preview = await previewCreditNote(services, actor, asked);
  if (!preview.ok) return refuse(preview.problem, null);
  const shown = formatMinor(preview.value.totalMinor, preview.value.currency);
  const changed = issuing && form.text('shown_total') !== shown;
  if (!issuing || changed)
    return sendForm(request, reply, options, form, { preview: preview.value, changed, problem: null });
  const issued = await issueCreditNote(services, actor, { creditNoteId, ...asked });
  return issued.ok
    ? reply.redirect(`/office/credit-notes/${issued.value.id}`, 303)
    : refuse(issued.problem, preview.value);
}

function creditNoteIdOf(form: FormValues | null, { services }: PageOptions): string {
  const sent = form?.text('credit_note_id') ?? '';
  return isUuid(sent) ? sent : services.newId();
}

interface Shown {
  readonly preview: CreditPreview | null;
  readonly changed: boolean;
  readonly problem: Problem | null;
}

async function sendForm(
  request: InvoiceRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: FormValues | null,
  shown: Shown,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'issue_credit_note');
  const invoiceId = pathId<InvoiceId>(request.params.id);
  const creditable = unwrap(await readCreditable(options.services, actorOf(request), invoiceId));
  const page = creditFormView({
    ...shown,
    frame,
    creditable,
    creditNoteId: creditNoteIdOf(form, options),
    typed: (name) => form?.text(name) ?? (name === 'issued_on' ? frame.me.today : ''),
    checked: (name, value) => form?.all(name).includes(value) ?? name === 'apply',
  });
  return sendPage(reply, page, shown.problem?.code);
}
