import {
  type AccountId,
  type DisputeId,
  formatMinor,
  type InvoiceId,
  isUuid,
  type PaymentId,
  type Problem,
  parseMoney,
  toId,
} from '@grainwright/domain';
import {
  listAccountNames,
  openDispute,
  type PaymentEntryView,
  readPaymentEntry,
  recordPayment,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { choosePayerView, payersMeant } from './choose-payer.ts';
import {
  aboveAllThatIsOpen,
  asFormProblem,
  disputeField,
  documentsOf,
  type EnteredPart,
  enteredIn,
  partsOf,
  reasonField,
  settledOn,
  suggested,
} from './entry-form.ts';
import { anywayField, askingField, type PaymentForm, paymentFormView } from './form-view.ts';

interface EntryQuery {
  readonly account?: string;
  readonly who?: string;
  readonly past?: string;
}
type EntryRequest = FastifyRequest<{ Querystring: EntryQuery }>;

export const paymentEntryPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: EntryQuery }>('/office/payments/new', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'record_payment');
    const accountId = queryId<AccountId>(request.query.account);
    if (accountId === null) return choosePayer(request, reply, options);
    const typed = (name: string) => (name === 'received_on' ? frame.me.today : '');
    return sendEntry(request, reply, options, {
      accountId,
      paymentId: services.newId(),
      entered: { typed, ticked: new Set() },
    });
  });

  app.post<{ Querystring: EntryQuery }>('/office/payments/new', async (request, reply) => {
    const form = formOf(request);
    if (form.text(askingField) === '') return recordFromForm(request, reply, options, form);
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'record_payment');
    return answerQuestion(request, reply, options, form);
  });
};

async function choosePayer(
  request: EntryRequest,
  reply: FastifyReply,
  options: PageOptions,
): Promise<FastifyReply> {
  const accounts = unwrap(await listAccountNames(options.services, actorOf(request)));
  const typed = typeof request.query.who === 'string' ? request.query.who.trim() : '';
  const meant = payersMeant(typed, accounts);
  const [only, another] = meant;
  const to = '/office/payments/new';
  if (only !== undefined && another === undefined) return reply.redirect(`${to}?account=${only.id}`, 303);
  const frame = await frameOf(request, reply, options);
  const page = choosePayerView({ frame, accounts, typed, meant, to, heading: 'Record a payment' });
  return sendPage(reply, page);
}

async function answerQuestion(
  request: EntryRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: FormValues,
): Promise<FastifyReply> {
  const accountId = pathId<AccountId>(form.text('account'));
  const shown = { accountId, paymentId: sentId(form, 'payment_id') ?? options.services.newId() };
  const before = queryId<InvoiceId>(form.text('shown'));
  const entry = await entryOf(request, options, accountId, before);
  if (form.text(askingField) === 'turn')
    return sendEntry(request, reply, options, { ...shown, entered: settledOn(enteredIn(form), entry) });
  const here = await entryOf(request, options, accountId, pastOf(request));
  const entered = suggested(enteredIn(form), here);
  const found = entered.ticked.size > 0;
  return sendEntry(request, reply, options, {
    ...shown,
    entered: found ? entered : enteredIn(form),
    suggestion: found ? 'found' : 'none',
  });
}

async function recordFromForm(
  request: EntryRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: FormValues,
): Promise<FastifyReply> {
  const accountId = pathId<AccountId>(form.text('account'));
  const paymentId = sentId(form, 'payment_id') ?? options.services.newId();
  const entered = enteredIn(form);
  const entry = await entryOf(request, options, accountId, pastOf(request));
  const parts = partsOf(entered, entry);
  const refused = (problem: Problem) =>
    sendEntry(request, reply, options, { accountId, paymentId, entered, problem });
  if (!parts.ok) return refused(parts.problem);
  const anyway = form.text(anywayField) !== '';
  const tooMuch = anyway ? null : aboveAllThatIsOpen(entered, entry, pastOf(request));
  if (tooMuch !== null)
    return sendEntry(request, reply, options, {
      accountId,
      paymentId,
      entered,
      problem: tooMuch,
      asks: true,
    });
  const recorded = await recordPayment(options.services, actorOf(request), {
    paymentId: toId<PaymentId>(paymentId),
    accountId,
    method: form.text('method'),
    amount: form.text('amount'),
    receivedOn: form.text('received_on'),
    reference: form.text('reference'),
    applications: parts.value,
    anyway,
  });
  if (!recorded.ok) {
    const problem = asFormProblem(recorded.problem, parts.value);
    const asks = problem.code === 'duplicate';
    return sendEntry(request, reply, options, { accountId, paymentId, entered, problem, asks });
  }
  const noted = await noteShortPays(request, options, { form, entry, parts: parts.value });
  return reply.redirect(`/office/payments/${paymentId}${noted ? '' : '?note=short-pay'}`, 303);
}

interface ShortPays {
  readonly form: FormValues;
  readonly entry: PaymentEntryView;
  readonly parts: readonly EnteredPart[];
}

/** Keeps why less was paid, where somebody said so. False when that was refused; the payment stands all the same. */
async function noteShortPays(
  request: EntryRequest,
  { services }: PageOptions,
  { form, entry, parts }: ShortPays,
): Promise<boolean> {
  let noted = true;
  for (const { invoiceId, amount } of parts) {
    const reason = form.text(reasonField(invoiceId));
    const document = documentsOf(entry).find((each) => each.id === invoiceId);
    const paid = parseMoney(amount, { currency: entry.currency });
    if (reason === '' || document === undefined || !paid.ok || paid.value >= document.openMinor) continue;
    const received = form.text('received_on');
    const opened = await openDispute(services, actorOf(request), {
      disputeId: toId<DisputeId>(sentId(form, disputeField(invoiceId)) ?? services.newId()),
      invoiceId,
      lineId: null,
      amount: formatMinor(document.openMinor - paid.value - document.disputedMinor, entry.currency),
      reason,
      note: '',
      on: received < document.issuedOn ? null : received,
    });
    noted &&= opened.ok;
  }
  return noted;
}

interface ShownEntry extends Pick<PaymentForm, 'paymentId' | 'entered'> {
  readonly accountId: AccountId;
  readonly suggestion?: PaymentForm['suggestion'];
  readonly problem?: Problem;
  readonly asks?: boolean;
}

async function sendEntry(
  request: EntryRequest,
  reply: FastifyReply,
  options: PageOptions,
  { accountId, problem, suggestion, asks, ...shown }: ShownEntry,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'record_payment');
  const past = pastOf(request);
  const entry = await entryOf(request, options, accountId, past);
  const { newId } = options.services;
  const page = paymentFormView({
    ...shown,
    frame,
    entry,
    past,
    newId,
    asksAnyway: asks ?? false,
    suggestion: suggestion ?? null,
    problem: problem ?? null,
  });
  return sendPage(reply, page, problem?.code);
}

async function entryOf(
  request: EntryRequest,
  { services }: PageOptions,
  accountId: AccountId,
  past: InvoiceId | null,
): Promise<PaymentEntryView> {
  return unwrap(await readPaymentEntry(services, actorOf(request), { accountId, past }));
}

function pastOf(request: EntryRequest): InvoiceId | null {
  return queryId<InvoiceId>(request.query.past);
}

function sentId(form: FormValues, name: string): string | null {
  const text = form.text(name);
  return isUuid(text) ? text : null;
}
