import {
  type AccountId,
  type ApplicationId,
  type CreditNoteId,
  type InvoiceId,
  isUuid,
  type Problem,
  toId,
} from '@grainwright/domain';
import { applyCreditNote, listCreditNotes, listInvoices, readCreditNote } from '@grainwright/operations';
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
import { officeCreditNotesView, officeCreditNoteView } from './view.ts';

export const officeCreditNotePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { account?: string; before?: string } }>(
    '/office/credit-notes',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const actor = actorOf(request);
      const accountId = queryId<AccountId>(request.query.account);
      const past = pageCursor(request.query.before) ?? null;
      const list = unwrap(await listCreditNotes(services, actor, { accountId, past }));
      const accounts = await accountChoices(services, actor);
      return sendPage(reply, officeCreditNotesView({ frame, list, accounts, account: accountId ?? '' }));
    },
  );

  app.get<{ Params: { id: string } }>('/office/credit-notes/:id', async (request, reply) =>
    sendCreditNote(request, reply, options, {
      typed: () => '',
      applicationId: services.newId(),
      problem: null,
    }),
  );

  app.post<{ Params: { id: string } }>('/office/credit-notes/:id/applications', async (request, reply) => {
    const form = formOf(request);
    const creditNoteId = pathId<CreditNoteId>(request.params.id);
    const sent = form.text('application_id');
    const applicationId = isUuid(sent) ? sent : services.newId();
    const invoiceId = form.text('invoice_id');
    const applied = isUuid(invoiceId)
      ? await applyCreditNote(services, actorOf(request), {
          applicationId: toId<ApplicationId>(applicationId),
          creditNoteId,
          invoiceId: toId<InvoiceId>(invoiceId),
          amount: form.text('amount'),
        })
      : noInvoice;
    if (applied.ok) return reply.redirect(`/office/credit-notes/${creditNoteId}`, 303);
    const typed = (name: string) => form.text(name);
    return sendCreditNote(request, reply, options, { typed, applicationId, problem: applied.problem });
  });
};

const noInvoice = {
  ok: false,
  problem: { code: 'invalid_input', detail: 'Choose the invoice that it is for.', field: 'invoice_id' },
} as const;

async function sendCreditNote(
  request: FastifyRequest<{ Params: { id: string } }>,
  reply: FastifyReply,
  options: PageOptions,
  shown: {
    readonly typed: (name: string) => string;
    readonly applicationId: string;
    readonly problem: Problem | null;
  },
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  const note = unwrap(await readCreditNote(services, actor, pathId<CreditNoteId>(request.params.id)));
  const { accountId } = note;
  const open = { accountId, openOnly: true, past: null, oldestFirst: true };
  const { rows } = unwrap(await listInvoices(services, actor, open));
  return sendPage(reply, officeCreditNoteView({ frame, note, open: rows, ...shown }), shown.problem?.code);
}
