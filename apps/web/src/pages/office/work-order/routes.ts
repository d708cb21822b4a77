import { type ApprovalAskId, allows, type Problem, toId, type WorkOrderId } from '@grainwright/domain';
import {
  changeWriteUp,
  listApprovers,
  listLinks,
  readHoldsOver,
  readWorkOrder,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { firstOrder } from '../../work-order/first-order.ts';
import type { FloorTyped } from './floor-part.ts';
import { type NumbersTyped, numbersOnRecord } from './numbers-form.ts';
import { nothingTyped, type RecordedTyped } from './recorded-answer-form.ts';
import type { TypedTurn } from './turn-forms.ts';
import { officeWorkOrderView } from './view.ts';

interface ById {
  Params: { id: string };
}

/** One work order at the desk, and the numbers that come late. */
export const officeWorkOrderPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ById>('/office/work-orders/:id', async (request, reply) =>
    showOfficeWorkOrder(request, reply, options, { id: pathId<WorkOrderId>(request.params.id) }),
  );

  app.post<ById>('/office/work-orders/:id/numbers', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const typed = {
      ownNumber: form.text('own_number'),
      roNumber: form.text('ro_number'),
      poNumber: form.text('po_number'),
    };
    const changed = await changeWriteUp(options.services, actorOf(request), {
      workOrderId: id,
      ...(form.checked('own_number') ? { ownNumber: typed.ownNumber } : {}),
      ...(form.checked('ro_number') ? { roNumber: typed.roNumber } : {}),
      ...(form.checked('po_number') ? { poNumber: typed.poNumber } : {}),
    });
    if (changed.ok) return reply.redirect(`/office/work-orders/${id}`, 303);
    return showOfficeWorkOrder(request, reply, options, { id, numbers: { typed, problem: changed.problem } });
  });
};

export interface ShownAgain {
  readonly id: WorkOrderId;
  readonly numbers?: { readonly typed: NumbersTyped; readonly problem: Problem };
  readonly answer?: { readonly typed: RecordedTyped; readonly problem: Problem };
  readonly turn?: TypedTurn;
  readonly floor?: FloorTyped;
  /** A question that was not sent. */
  readonly asked?: Problem;
}

/** The work order as it is now; after a form that came back, with what was typed and what to do. */
export async function showOfficeWorkOrder(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { id, numbers, answer, turn, floor, asked }: ShownAgain,
): Promise<FastifyReply> {
  const problem = numbers?.problem ?? answer?.problem ?? turn?.problem ?? floor?.problem ?? asked;
  if (problem?.code === 'not_allowed' || problem?.code === 'not_found') throw new ProblemError(problem);
  const actor = actorOf(request);
  const view = unwrap(await readWorkOrder(options.services, actor, id));
  const frame = await frameOf(request, reply, options);
  const writesDown = view.state === 'awaiting_approval' && allows(frame.me.role, 'record_decision');
  const page = {
    frame,
    view,
    invoiceId: options.services.newId(),
    messageId: options.services.newId(),
    approvers: writesDown ? unwrap(await listApprovers(options.services, actor, id)) : [],
    numbers: numbers ?? { typed: numbersOnRecord(view), problem: null },
    answer: answer ?? { typed: nothingTyped, problem: null },
    turn: turn ?? null,
    floor: floor ?? null,
    asked: {
      links: allows(frame.me.role, 'give_links')
        ? unwrap(await listLinks(options.services, actor, id)).filter(({ purpose }) => purpose === 'approval')
        : [],
      askId: toId<ApprovalAskId>(options.services.newId()),
      problem: asked ?? null,
    },
    first: await firstOrder(options.services, actor, view),
    holds: unwrap(
      await readHoldsOver(options.services, actor, { workOrderId: view.id, accountId: view.account.id }),
    ),
  };
  return sendPage(reply, officeWorkOrderView(page), problem?.code);
}
