import {
  type DiscountId,
  type InvoiceId,
  isUuid,
  type Permission,
  type Problem,
  toId,
  type WriteOffId,
} from '@grainwright/domain';
import {
  type InvoiceView,
  readInvoice,
  recoverWriteOff,
  takeDiscount,
  voidInvoice,
  writeOff,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { type Frame, frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type EndingForm, recoverFormView, voidFormView, writeOffFormView } from './view.ts';

/** What ends an invoice, or a part of it, without money: a void, a write-off and its recovery, a discount. */
export const invoiceEndingPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<OfInvoice>('/office/invoices/:id/void', async (request, reply) => {
    const shown = await shownForm(request, reply, options, 'void_invoice');
    return sendPage(reply, voidFormView({ ...shown, typed: () => '', problem: null }));
  });

  app.post<OfInvoice>('/office/invoices/:id/void', async (request, reply) => {
    const form = formOf(request);
    const invoiceId = pathId<InvoiceId>(request.params.id);
    const voided = await voidInvoice(services, actorOf(request), { invoiceId, reason: form.text('reason') });
    if (voided.ok) return toInvoice(reply, invoiceId);
    const again = await typedForm(request, reply, options, 'void_invoice', voided.problem);
    return sendPage(reply, voidFormView(again), voided.problem.code);
  });

  app.get<OfInvoice>('/office/invoices/:id/write-off', async (request, reply) => {
    const shown = await shownForm(request, reply, options, 'write_off');
    const typed = (name: string) => (name === 'on' ? shown.frame.me.today : '');
    return sendPage(reply, writeOffFormView({ ...shown, typed, problem: null, id: services.newId() }));
  });

  app.post<OfInvoice>('/office/invoices/:id/write-off', async (request, reply) =>
    letGoFromForm(request, reply, options),
  );

  app.get<OfWriteOff>('/office/invoices/:id/recover/:write_off_id', async (request, reply) => {
    const shown = await shownForm(request, reply, options, 'write_off');
    const typed = (name: string) => (name === 'on' ? shown.frame.me.today : '');
    return sendPage(reply, recoverFormView({ ...recoverable(request, shown), typed, problem: null }));
  });

  app.post<OfWriteOff>('/office/invoices/:id/recover/:write_off_id', async (request, reply) => {
    const form = formOf(request);
    const shown = recoverable(request, await shownForm(request, reply, options, 'write_off'));
    const recovered = await recoverWriteOff(services, actorOf(request), {
      writeOffId: shown.writeOffId,
      reason: form.text('reason'),
      on: form.text('on'),
    });
    if (recovered.ok) return toInvoice(reply, shown.invoice.id);
    const typed = (name: string) => form.text(name);
    const { problem } = recovered;
    return sendPage(reply, recoverFormView({ ...shown, typed, problem }), problem.code);
  });
};

interface OfInvoice {
  Params: { id: string };
}
interface OfWriteOff {
  Params: { id: string; write_off_id: string };
}

function toInvoice(reply: FastifyReply, id: InvoiceId): FastifyReply {
  return reply.redirect(`/office/invoices/${id}`, 303);
}

async function letGoFromForm(
  request: FastifyRequest<OfInvoice>,
  reply: FastifyReply,
  options: PageOptions,
): Promise<FastifyReply> {
  const { services } = options;
  const form = formOf(request);
  const actor = actorOf(request);
  const invoiceId = pathId<InvoiceId>(request.params.id);
  const sent = form.text('id');
  const id = isUuid(sent) ? sent : services.newId();
  const asked = { invoiceId, amount: form.text('amount'), reason: form.text('reason'), on: form.text('on') };
  const kind = form.text('kind');
  const done =
    kind === 'discount'
      ? await takeDiscount(services, actor, { discountId: toId<DiscountId>(id), ...asked })
      : await writeOff(services, actor, { writeOffId: toId<WriteOffId>(id), kind, ...asked });
  if (done.ok) return toInvoice(reply, invoiceId);
  const again = await typedForm(request, reply, options, 'write_off', done.problem);
  return sendPage(reply, writeOffFormView({ ...again, id }), done.problem.code);
}

interface Shown {
  readonly frame: Frame;
  readonly invoice: InvoiceView;
}

async function shownForm(
  request: FastifyRequest<OfInvoice>,
  reply: FastifyReply,
  options: PageOptions,
  permission: Permission,
): Promise<Shown> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, permission);
  const id = pathId<InvoiceId>(request.params.id);
  return { frame, invoice: unwrap(await readInvoice(options.services, actorOf(request), id)) };
}

async function typedForm(
  request: FastifyRequest<OfInvoice>,
  reply: FastifyReply,
  options: PageOptions,
  permission: Permission,
  problem: Problem,
): Promise<EndingForm> {
  const form = formOf(request);
  const typed = (name: string) => form.text(name);
  return { ...(await shownForm(request, reply, options, permission)), typed, problem };
}

/** The write-off in the address, if it stands on this invoice. */
function recoverable<Form extends Shown>(request: FastifyRequest<OfWriteOff>, form: Form) {
  const writeOffId = pathId<WriteOffId>(request.params.write_off_id);
  const writtenOff = form.invoice.letGo.find((each) => each.writeOffId === writeOffId);
  if (writtenOff === undefined) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  return { ...form, writeOffId, writtenOff };
}
