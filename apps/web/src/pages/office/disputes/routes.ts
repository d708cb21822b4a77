import {
  type AccountId,
  type CreditNoteId,
  type DisputeId,
  type DisputeReason,
  type InvoiceId,
  isUuid,
  type Problem,
  toId,
} from '@grainwright/domain';
import {
  answerDispute,
  listCreditNotes,
  listDisputes,
  openDispute,
  readDispute,
  readInvoice,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { disputeFromForm } from '../../billing/dispute-from-form.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { officeDisputeFormView, officeDisputesView, officeDisputeView } from './view.ts';

interface Query {
  readonly account?: string;
  readonly answered?: string;
  readonly after?: string;
}

export const officeDisputePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: Query }>('/office/disputes', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const accountId = queryId<AccountId>(request.query.account);
    const withAnswered = request.query.answered !== undefined;
    const past = queryId<DisputeId>(request.query.after);
    const list = unwrap(await listDisputes(services, actor, { accountId, waitingOnly: !withAnswered, past }));
    const accounts = await accountChoices(services, actor);
    const account = accountId ?? '';
    return sendPage(reply, officeDisputesView({ frame, list, accounts, account, withAnswered }));
  });

  app.get<OfId>('/office/disputes/:id', async (request, reply) =>
    sendDispute(request, reply, options, { typed: () => '', problem: null }),
  );

  app.post<OfId>('/office/disputes/:id', async (request, reply) => {
    const form = formOf(request);
    const disputeId = pathId<DisputeId>(request.params.id);
    const credit = form.text('credit_note_id');
    const answered = await answerDispute(services, actorOf(request), {
      disputeId,
      answer: form.text('answer'),
      creditNoteId: isUuid(credit) ? toId<CreditNoteId>(credit) : null,
      note: form.text('note'),
    });
    if (answered.ok) return reply.redirect(`/office/disputes/${disputeId}`, 303);
    const typed = (name: string) => form.text(name);
    return sendDispute(request, reply, options, { typed, problem: answered.problem });
  });

  app.get<OfId>('/office/invoices/:id/dispute', async (request, reply) => {
    const { today } = (await frameOf(request, reply, options)).me;
    const typed = (name: string) => (name === 'on' ? today : '');
    return sendForm(request, reply, options, { typed, disputeId: services.newId(), problem: null });
  });

  app.post<OfId>('/office/invoices/:id/dispute', async (request, reply) => {
    const form = formOf(request);
    const invoiceId = pathId<InvoiceId>(request.params.id);
    const asked = disputeFromForm(form, invoiceId, services.newId(), true);
    const opened = await openDispute(services, actorOf(request), asked);
    if (opened.ok) return reply.redirect(`/office/disputes/${opened.value.id}`, 303);
    const typed = (name: string) => form.text(name);
    const { disputeId } = asked;
    return sendForm(request, reply, options, { typed, disputeId, problem: opened.problem });
  });
};

interface OfId {
  Params: { id: string };
}

interface Shown {
  readonly typed: (name: string) => string;
  readonly problem: Problem | null;
}

async function sendDispute(
  request: FastifyRequest<OfId>,
  reply: FastifyReply,
  options: PageOptions,
  shown: Shown,
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  const dispute = unwrap(await readDispute(services, actor, pathId<DisputeId>(request.params.id)));
  const { accountId, invoiceId, openedOn } = dispute;
  const { rows } = unwrap(await listCreditNotes(services, actor, { accountId, invoiceId, past: null }));
  const notes = rows.filter((note) => note.issuedOn >= openedOn);
  return sendPage(reply, officeDisputeView({ frame, dispute, notes, ...shown }), shown.problem?.code);
}

const staffReasons: readonly DisputeReason[] = ['disputed', 'discount_taken', 'error', 'unknown'];

async function sendForm(
  request: FastifyRequest<OfId>,
  reply: FastifyReply,
  options: PageOptions,
  shown: Shown & { readonly disputeId: string },
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'dispute_invoice');
  const id = pathId<InvoiceId>(request.params.id);
  const invoice = unwrap(await readInvoice(options.services, actorOf(request), id));
  const action = `/office/invoices/${id}/dispute`;
  const page = officeDisputeFormView({
    ...shown,
    frame,
    invoice,
    action,
    reasons: staffReasons,
    dated: true,
  });
  return sendPage(reply, page, shown.problem?.code);
}
