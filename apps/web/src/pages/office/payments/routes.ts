import {
  type AccountId,
  type ApplicationId,
  allows,
  type InvoiceId,
  isUuid,
  type PaymentId,
  type Problem,
  toId,
} from '@grainwright/domain';
import {
  applyPayment,
  listInvoices,
  listPayments,
  readPayment,
  recordPayment,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { type Frame, frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import { appliedField, applyForm, choosePayerView, paymentFormView, type Typed } from './form-view.ts';
import { paymentsView, paymentView } from './view.ts';

export const officePaymentPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { account?: string; before?: string } }>(
    '/office/payments',
    async (request, reply) => {
      const frame = await frameOf(request, reply, options);
      const actor = actorOf(request);
      const accountId = queryId<AccountId>(request.query.account);
      const before = queryId<PaymentId>(request.query.before);
      const list = unwrap(await listPayments(services, actor, { accountId, before }));
      const accounts = await accountChoices(services, actor);
      return sendPage(reply, paymentsView({ frame, list, accounts, account: accountId ?? '' }));
    },
  );

  app.get<{ Querystring: { account?: string } }>('/office/payments/new', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'record_payment');
    const accountId = queryId<AccountId>(request.query.account);
    if (accountId === null)
      return sendPage(reply, choosePayerView(frame, await accountChoices(services, actorOf(request))));
    const typed: Typed = (name) => (name === 'received_on' ? frame.me.today : '');
    return sendForm(request, reply, options, {
      frame,
      accountId,
      paymentId: services.newId(),
      typed,
      problem: null,
    });
  });

  app.post('/office/payments/new', async (request, reply) => recordFromForm(request, reply, options));

  app.get<{ Params: { id: string } }>('/office/payments/:id', async (request, reply) =>
    sendPayment(request, reply, options, {
      paymentId: pathId<PaymentId>(request.params.id),
      applicationId: services.newId(),
      typed: () => '',
      problem: null,
    }),
  );

  app.post<{ Params: { id: string } }>('/office/payments/:id/applications', async (request, reply) => {
    const form = formOf(request);
    const paymentId = pathId<PaymentId>(request.params.id);
    const applicationId = sentId(form, 'application_id') ?? services.newId();
    const typed: Typed = (name) => form.text(name);
    const invoiceId = sentId(form, 'invoice_id');
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
      applicationId,
      typed,
      problem: applied.problem,
    });
  });
};

const noInvoice = {
  ok: false,
  problem: { code: 'invalid_input', detail: 'Choose the invoice that it is for.', field: 'invoice_id' },
} as const;

function sentId(form: FormValues, name: string): string | null {
  const text = form.text(name);
  return isUuid(text) ? text : null;
}

async function recordFromForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
): Promise<FastifyReply> {
  const { services } = options;
  const form = formOf(request);
  const accountId = pathId<AccountId>(form.text('account'));
  const paymentId = sentId(form, 'payment_id') ?? services.newId();
  const chosen = form.all('invoice_id').filter((id) => isUuid(id) && form.text(appliedField(id)) !== '');
  const recorded = await recordPayment(services, actorOf(request), {
    paymentId: toId<PaymentId>(paymentId),
    accountId,
    method: form.text('method'),
    amount: form.text('amount'),
    receivedOn: form.text('received_on'),
    reference: form.text('reference'),
    applications: chosen.map((id) => ({
      invoiceId: toId<InvoiceId>(id),
      amount: form.text(appliedField(id)),
    })),
  });
  if (recorded.ok) return reply.redirect(`/office/payments/${paymentId}`, 303);
  const frame = await frameOf(request, reply, options);
  const problem = asFormProblem(recorded.problem, chosen);
  return sendForm(request, reply, options, {
    frame,
    accountId,
    paymentId,
    typed: (name) => form.text(name),
    problem,
  });
}

/** The operation counts the applications it was given; the form names its boxes by invoice. */
function asFormProblem(problem: Problem, chosen: readonly string[]): Problem {
  const place = /^applications\.(\d+)\./.exec(problem.field ?? '')?.[1];
  const invoiceId = place === undefined ? undefined : chosen[Number(place)];
  return invoiceId === undefined ? problem : { ...problem, field: appliedField(invoiceId) };
}

interface ShownForm {
  readonly frame: Frame;
  readonly accountId: AccountId;
  readonly paymentId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

async function sendForm(
  request: FastifyRequest,
  reply: FastifyReply,
  { services }: PageOptions,
  shown: ShownForm,
): Promise<FastifyReply> {
  const { accountId, ...rest } = shown;
  const list = unwrap(await listInvoices(services, actorOf(request), openOf(accountId)));
  const account = { id: accountId, name: list.accountName ?? '' };
  const page = paymentFormView({ ...rest, account, open: list.rows, more: list.next !== null });
  return sendPage(reply, page, shown.problem?.code);
}

interface ShownPayment {
  readonly paymentId: PaymentId;
  readonly applicationId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

async function sendPayment(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { paymentId, applicationId, typed, problem }: ShownPayment,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  const payment = unwrap(await readPayment(options.services, actor, paymentId));
  const mayApply = payment.unappliedMinor > 0n && allows(frame.me.role, 'record_payment');
  const list = mayApply
    ? unwrap(await listInvoices(options.services, actor, openOf(payment.accountId)))
    : null;
  const { csrfToken } = frame;
  const { currency } = payment;
  const apply =
    list === null
      ? null
      : applyForm({ csrfToken, paymentId, applicationId, currency, open: list.rows, typed, problem });
  return sendPage(reply, paymentView({ frame, payment, apply }), problem?.code);
}

function openOf(accountId: AccountId) {
  return { accountId, openOnly: true, before: null, oldestFirst: true };
}
