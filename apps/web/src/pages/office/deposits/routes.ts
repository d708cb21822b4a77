import {
  type AccountId,
  isUuid,
  type PaymentId,
  type Problem,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { listAccountNames, readPaymentEntry, readWorkOrder, recordDeposit } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { choosePayerView, payersMeant } from '../payments/choose-payer.ts';
import type { Typed } from '../payments/entry-form.ts';
import { depositFormView } from './view.ts';

interface DepositQuery {
  readonly account?: string;
  readonly who?: string;
  readonly work_order?: string;
  readonly amount?: string;
}
type DepositRequest = FastifyRequest<{ Querystring: DepositQuery }>;

export const officeDepositPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: DepositQuery }>('/office/deposits/new', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'record_payment');
    const accountId = queryId<AccountId>(request.query.account);
    if (accountId === null) return choosePayer(request, reply, options);
    const starts: Readonly<Record<string, string>> = {
      received_on: frame.me.today,
      work_order_id: queryId(request.query.work_order) ?? '',
      amount: typeof request.query.amount === 'string' ? request.query.amount.slice(0, 24) : '',
    };
    const typed: Typed = (name) => starts[name] ?? '';
    return sendForm(request, reply, options, {
      accountId,
      paymentId: services.newId(),
      typed,
      problem: null,
    });
  });

  app.post('/office/deposits/new', async (request, reply) => {
    const form = formOf(request);
    const accountId = pathId<AccountId>(form.text('account'));
    const paymentId = isUuid(form.text('payment_id')) ? form.text('payment_id') : services.newId();
    const workOrderId = form.text('work_order_id');
    const recorded = await recordDeposit(services, actorOf(request), {
      paymentId: toId<PaymentId>(paymentId),
      accountId,
      workOrderId: isUuid(workOrderId) ? toId<WorkOrderId>(workOrderId) : null,
      method: form.text('method'),
      amount: form.text('amount'),
      receivedOn: form.text('received_on'),
      reference: form.text('reference'),
    });
    if (recorded.ok) return reply.redirect(`/office/payments/${paymentId}`, 303);
    const typed: Typed = (name) => form.text(name);
    return sendForm(request, reply, options, { accountId, paymentId, typed, problem: recorded.problem });
  });
};

async function choosePayer(
  request: DepositRequest,
  reply: FastifyReply,
  options: PageOptions,
): Promise<FastifyReply> {
  const accounts = unwrap(await listAccountNames(options.services, actorOf(request)));
  const typed = typeof request.query.who === 'string' ? request.query.who.trim() : '';
  const meant = payersMeant(typed, accounts);
  const [only, another] = meant;
  const to = '/office/deposits/new';
  if (only !== undefined && another === undefined) return reply.redirect(`${to}?account=${only.id}`, 303);
  const frame = await frameOf(request, reply, options);
  const heading = 'Record a deposit';
  return sendPage(reply, choosePayerView({ frame, accounts, typed, meant, to, heading }));
}

interface ShownForm {
  readonly accountId: AccountId;
  readonly paymentId: string;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

async function sendForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { accountId, ...shown }: ShownForm,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const { services } = options;
  const actor = actorOf(request);
  const { account } = unwrap(await readPaymentEntry(services, actor, { accountId, past: null }));
  const workOrderId = queryId<WorkOrderId>(shown.typed('work_order_id'));
  const workOrder = workOrderId === null ? null : unwrap(await readWorkOrder(services, actor, workOrderId));
  const page = depositFormView({
    ...shown,
    frame,
    account,
    workOrderNumber: workOrder === null ? null : workOrder.number.toString(),
  });
  return sendPage(reply, page, shown.problem?.code);
}
