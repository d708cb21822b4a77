import {
  type AccountId,
  formatMinor,
  type Problem,
  type PurchaseOrderId,
  type StandingApprovalId,
} from '@grainwright/domain';
import { changePurchaseOrder, endStandingApproval, readAccount } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { changeOrderView, endApprovalView, type OrderTyped } from './view.ts';

interface ApprovalPath {
  Params: { id: string; approvalId: string };
}
interface OrderPath {
  Params: { id: string; orderId: string };
}

/** The end of a standing approval, and what an account changed about a purchase order. */
export const officeAccountAgreementPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ApprovalPath>('/office/accounts/:id/standing-approvals/:approvalId/end', (request, reply) =>
    showEnd(request, reply, options, { ...approvalIn(request.params), validTo: null, problem: null }),
  );

  app.post<ApprovalPath>(
    '/office/accounts/:id/standing-approvals/:approvalId/end',
    async (request, reply) => {
      const approval = approvalIn(request.params);
      const validTo = formOf(request).text('valid_to');
      const ended = await endStandingApproval(options.services, actorOf(request), { ...approval, validTo });
      if (ended.ok) return reply.redirect(`/office/accounts/${approval.accountId}`, 303);
      return showEnd(request, reply, options, { ...approval, validTo, problem: ended.problem });
    },
  );

  app.get<OrderPath>('/office/accounts/:id/purchase-orders/:orderId/change', (request, reply) =>
    showChange(request, reply, options, { ...orderIn(request.params), typed: null, problem: null }),
  );

  app.post<OrderPath>('/office/accounts/:id/purchase-orders/:orderId/change', async (request, reply) => {
    const order = orderIn(request.params);
    const form = formOf(request);
    const typed = { cap: form.text('cap'), validTo: form.text('valid_to'), note: form.text('note') };
    const changed = await changePurchaseOrder(options.services, actorOf(request), {
      ...order,
      cap: typed.cap === '' ? null : typed.cap,
      validTo: typed.validTo === '' ? null : typed.validTo,
      note: typed.note,
    });
    if (changed.ok) return reply.redirect(`/office/accounts/${order.accountId}`, 303);
    return showChange(request, reply, options, { ...order, typed, problem: changed.problem });
  });
};

function approvalIn({ id, approvalId }: ApprovalPath['Params']) {
  return { accountId: pathId<AccountId>(id), id: pathId<StandingApprovalId>(approvalId) };
}

function orderIn({ id, orderId }: OrderPath['Params']) {
  return { accountId: pathId<AccountId>(id), id: pathId<PurchaseOrderId>(orderId) };
}

interface End extends ReturnType<typeof approvalIn> {
  readonly validTo: string | null;
  readonly problem: Problem | null;
}

async function showEnd(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { accountId, id, validTo, problem }: End,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const view = unwrap(await readAccount(options.services, actorOf(request), accountId));
  const approval = view.standingApprovals.find((each) => each.id === id);
  if (approval === undefined)
    throw new ProblemError({ code: 'not_found', detail: 'There is no such standing approval.' });
  const page = { frame, view, approval, validTo: validTo ?? view.today, problem };
  return sendPage(reply, endApprovalView(page), problem?.code);
}

interface Change extends ReturnType<typeof orderIn> {
  readonly typed: OrderTyped | null;
  readonly problem: Problem | null;
}

async function showChange(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { accountId, id, typed, problem }: Change,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'change_accounts');
  const view = unwrap(await readAccount(options.services, actorOf(request), accountId));
  const order = view.purchaseOrders.find((each) => each.id === id);
  if (order === undefined)
    throw new ProblemError({ code: 'not_found', detail: 'There is no such purchase order.' });
  const stored = {
    cap: order.capMinor === null ? '' : formatMinor(order.capMinor, view.currency),
    validTo: order.validTo ?? '',
    note: order.note,
  };
  return sendPage(
    reply,
    changeOrderView({ frame, view, order, typed: typed ?? stored, problem }),
    problem?.code,
  );
}
