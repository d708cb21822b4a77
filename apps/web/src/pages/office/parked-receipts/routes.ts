import {
  type AccountId,
  isUuid,
  type PaymentId,
  type Problem,
  type ReceiptId,
  toId,
} from '@grainwright/domain';
import { assignReceipt, listParkedReceipts, parkReceipt, readParkedReceipt } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { accountChoices } from '../account-choices.ts';
import type { Typed } from '../payments/entry-form.ts';
import { parkedReceiptsView, parkedReceiptView } from './view.ts';

interface ListQuery {
  readonly assigned?: string;
  readonly past?: string;
}

export const parkedReceiptPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: ListQuery }>('/office/parked-receipts', async (request, reply) =>
    sendList(request, reply, options, null),
  );

  app.post<{ Querystring: ListQuery }>('/office/parked-receipts', async (request, reply) => {
    const form = formOf(request);
    const receiptId = isUuid(form.text('receipt_id')) ? form.text('receipt_id') : services.newId();
    const parked = await parkReceipt(services, actorOf(request), {
      receiptId: toId<ReceiptId>(receiptId),
      method: form.text('method'),
      amount: form.text('amount'),
      receivedOn: form.text('received_on'),
      reference: form.text('reference'),
      payer: form.text('payer'),
    });
    if (parked.ok) return reply.redirect('/office/parked-receipts', 303);
    const typed: Typed = (name) => form.text(name);
    return sendList(request, reply, options, { receiptId, typed, problem: parked.problem });
  });

  app.get<{ Params: { id: string } }>('/office/parked-receipts/:id', async (request, reply) =>
    sendOne(request, reply, options, null),
  );

  app.post<{ Params: { id: string } }>('/office/parked-receipts/:id', async (request, reply) => {
    const form = formOf(request);
    const receiptId = pathId<ReceiptId>(request.params.id);
    const paymentId = isUuid(form.text('payment_id')) ? form.text('payment_id') : services.newId();
    const accountId = form.text('account_id');
    const assigned = isUuid(accountId)
      ? await assignReceipt(services, actorOf(request), {
          receiptId,
          accountId: toId<AccountId>(accountId),
          paymentId: toId<PaymentId>(paymentId),
          on: form.text('on'),
        })
      : noAccount;
    if (assigned.ok) return reply.redirect(`/office/payments/${paymentId}`, 303);
    const typed: Typed = (name) => form.text(name);
    return sendOne(request, reply, options, { paymentId, typed, problem: assigned.problem });
  });
};

const noAccount = {
  ok: false,
  problem: { code: 'invalid_input', detail: 'Choose the account that sent it.', field: 'account_id' },
} as const;

async function sendList(
  request: FastifyRequest<{ Querystring: ListQuery }>,
  reply: FastifyReply,
  options: PageOptions,
  sent: { readonly receiptId: string; readonly typed: Typed; readonly problem: Problem } | null,
): Promise<FastifyReply> {
  const { services } = options;
  const frame = await frameOf(request, reply, options);
  const assigned = request.query.assigned === 'yes';
  const past = queryId<ReceiptId>(request.query.past);
  const list = unwrap(await listParkedReceipts(services, actorOf(request), { assigned, past }));
  const page = parkedReceiptsView({
    frame,
    list,
    assigned,
    receiptId: sent?.receiptId ?? services.newId(),
    typed: sent?.typed ?? ((name) => (name === 'received_on' ? frame.me.today : '')),
    problem: sent?.problem ?? null,
  });
  return sendPage(reply, page, sent?.problem.code);
}

async function sendOne(
  request: FastifyRequest<{ Params: { id: string } }>,
  reply: FastifyReply,
  options: PageOptions,
  sent: { readonly paymentId: string; readonly typed: Typed; readonly problem: Problem } | null,
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  const receipt = unwrap(await readParkedReceipt(services, actor, pathId<ReceiptId>(request.params.id)));
  const page = parkedReceiptView({
    frame,
    receipt,
    accounts: await accountChoices(services, actor),
    paymentId: sent?.paymentId ?? services.newId(),
    typed: sent?.typed ?? ((name) => (name === 'on' ? frame.me.today : '')),
    problem: sent?.problem ?? null,
  });
  return sendPage(reply, page, sent?.problem.code);
}
