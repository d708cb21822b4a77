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
import { pageCursor } from '../../page-cursor.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { type Frame, frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import {
  appliedField,
  applyForm,
  choosePayerView,
  paymentFormView,
  type Typed,
  turningField,
} from './form-view.ts';
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

  app.get<{ Querystring: { account?: string; past?: string } }>(
    '/office/payments/new',
    async (request, reply) => {
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
        amountsFor: [],
        problem: null,
      });
    },
  );

  app.post<{ Querystring: { past?: string } }>('/office/payments/new', async (request, reply) => {
    const form = formOf(request);
    return form.text(turningField) === ''
      ? recordFromForm(request, reply, options, form)
      : sendTyped(request, reply, options, form, null);
  });

  app.get<{ Params: { id: string }; Querystring: { past?: string } }>(
    '/office/payments/:id',
    async (request, reply) =>
      sendPayment(request, reply, options, {
        paymentId: pathId<PaymentId>(request.params.id),
        applicationId: services.newId(),
        typed: () => '',
        problem: null,
      }),
  );

  app.post<ApplicationRequest>('/office/payments/:id/applications', async (request, reply) =>
    applyFromForm(request, reply, options),
  );
};

const noInvoice = {
  ok: false,
  problem: { code: 'invalid_input', detail: 'Choose the invoice that it is for.', field: 'invoice_id' },
} as const;

function sentId(form: FormValues, name: string): string | null {
  const text = form.text(name);
  return isUuid(text) ? text : null;
}

interface ApplicationRequest {
  Params: { id: string };
  Querystring: { past?: string };
}

type PagedRequest = FastifyRequest<{ Querystring: { past?: string } }>;

async function applyFromForm(
  request: FastifyRequest<ApplicationRequest>,
  reply: FastifyReply,
  options: PageOptions,
): Promise<FastifyReply> {
  const { services } = options;
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
}

async function recordFromForm(
  request: PagedRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: FormValues,
): Promise<FastifyReply> {
  const { services } = options;
  const accountId = pathId<AccountId>(form.text('account'));
  const paymentId = sentId(form, 'payment_id') ?? services.newId();
  const chosen = amountsTypedFor(form);
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
  return sendTyped(request, reply, options, form, asFormProblem(recorded.problem, chosen));
}

/** The form as it was sent, with what is wrong with it or on another page of what is open. */
async function sendTyped(
  request: PagedRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: FormValues,
  problem: Problem | null,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'record_payment');
  return sendForm(request, reply, options, {
    frame,
    accountId: pathId<AccountId>(form.text('account')),
    paymentId: sentId(form, 'payment_id') ?? options.services.newId(),
    typed: (name) => form.text(name),
    amountsFor: amountsTypedFor(form),
    problem,
  });
}

function amountsTypedFor(form: FormValues): readonly string[] {
  return form.all('invoice_id').filter((id) => isUuid(id) && form.text(appliedField(id)) !== '');
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
  /** The invoices on which an amount was put. */
  readonly amountsFor: readonly string[];
  readonly problem: Problem | null;
}

async function sendForm(
  request: PagedRequest,
  reply: FastifyReply,
  { services }: PageOptions,
  shown: ShownForm,
): Promise<FastifyReply> {
  const { accountId, amountsFor, ...rest } = shown;
  const past = pastOf(request);
  const { rows, next, accountName } = unwrap(
    await listInvoices(services, actorOf(request), openOf(accountId, past)),
  );
  const page = paymentFormView({
    ...rest,
    account: { id: accountId, name: accountName ?? '' },
    open: rows,
    pages: { past, next },
    elsewhere: amountsFor.filter((id) => !rows.some((row) => row.id === id)),
  });
  return sendPage(reply, page, shown.problem?.code);
}

interface ShownPayment {
  readonly paymentId: PaymentId;
  readonly applicationId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

async function sendPayment(
  request: PagedRequest,
  reply: FastifyReply,
  options: PageOptions,
  { paymentId, applicationId, typed, problem }: ShownPayment,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  const payment = unwrap(await readPayment(options.services, actor, paymentId));
  const past = pastOf(request);
  const mayApply = payment.unappliedMinor > 0n && allows(frame.me.role, 'record_payment');
  const list = mayApply
    ? unwrap(await listInvoices(options.services, actor, openOf(payment.accountId, past)))
    : null;
  const { csrfToken } = frame;
  const { currency } = payment;
  const apply =
    list === null
      ? null
      : applyForm({
          csrfToken,
          paymentId,
          applicationId,
          currency,
          open: list.rows,
          pages: { past, next: list.next },
          typed,
          problem,
        });
  return sendPage(reply, paymentView({ frame, payment, apply }), problem?.code);
}

/** Oldest first: they are what is usually paid. */
function openOf(accountId: AccountId, past: bigint | null) {
  return { accountId, openOnly: true, past, oldestFirst: true };
}

function pastOf(request: PagedRequest): bigint | null {
  return pageCursor(request.query.past) ?? null;
}
