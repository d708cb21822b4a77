import {
  type AccountId,
  type ApplicationId,
  type InvoiceId,
  isUuid,
  type PaymentId,
  toId,
} from '@grainwright/domain';
import { applyPayment, listPayments } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { paymentChangePages } from './change-routes.ts';
import { paymentEntryPages } from './entry-routes.ts';
import { sendPayment } from './payment-page.ts';
import { paymentsView, type ShownKind, shownKinds } from './view.ts';

export const officePaymentPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { account?: string; before?: string; show?: string } }>(
    '/office/payments',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const actor = actorOf(request);
      const accountId = queryId<AccountId>(request.query.account);
      const before = queryId<PaymentId>(request.query.before);
      const show = shownKind(request.query.show);
      const list = unwrap(await listPayments(services, actor, { accountId, before, show }));
      const accounts = await accountChoices(services, actor);
      return sendPage(reply, paymentsView({ frame, list, accounts, account: accountId ?? '', show }));
    },
  );

  await app.register(paymentEntryPages, options);

  app.get<{ Params: { id: string } }>('/office/payments/:id', async (request, reply) =>
    sendPayment(request, reply, options, {
      paymentId: pathId<PaymentId>(request.params.id),
      apply: null,
      change: null,
    }),
  );

  app.post<{ Params: { id: string } }>('/office/payments/:id/applications', async (request, reply) =>
    applyFromForm(request, reply, options),
  );

  await app.register(paymentChangePages, options);
};

function shownKind(text: unknown): ShownKind {
  return Object.keys(shownKinds).find((kind): kind is ShownKind => kind === text) ?? 'all';
}

const noInvoice = {
  ok: false,
  problem: { code: 'invalid_input', detail: 'Choose the invoice that it is for.', field: 'invoice_id' },
} as const;

async function applyFromForm(
  request: FastifyRequest<{ Params: { id: string } }>,
  reply: FastifyReply,
  options: PageOptions,
): Promise<FastifyReply> {
  const { services } = options;
  const form = formOf(request);
  const paymentId = pathId<PaymentId>(request.params.id);
  const sent = (name: string) => (isUuid(form.text(name)) ? form.text(name) : null);
  const applicationId = sent('application_id') ?? services.newId();
  const invoiceId = sent('invoice_id');
  const applied =
    invoiceId === null
      ? noInvoice
      : await applyPayment(services, actorOf(request), {
          applicationId: toId<ApplicationId>(applicationId),
          paymentId,
          invoiceId: toId<InvoiceId>(invoiceId),
          amount: form.text('amount'),
        });
  if (applied.ok) return reply.redirect(`/office/payments/${paymentId}`, 303);
  return sendPayment(request, reply, options, {
    paymentId,
    apply: { applicationId, typed: (name) => form.text(name), problem: applied.problem },
    change: null,
  });
}
