import type { Problem, WorkOrderId } from '@grainwright/domain';
import { readWorkOrder, voidWorkOrder } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { notThereView } from './view.ts';

interface ById {
  Params: { id: string };
}

export const notTherePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ById>('/field/work-orders/:id/not-there', async (request, reply) =>
    show(request, reply, options, { note: '', problem: null }),
  );

  app.post<ById>('/field/work-orders/:id/not-there', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const note = formOf(request).text('note');
    const input = { workOrderId, reason: 'vehicle_not_there', note, duplicateOfId: null } as const;
    const voided = await voidWorkOrder(options.services, actorOf(request), input);
    if (voided.ok) return reply.redirect(`/field/work-orders/${workOrderId}`, 303);
    return show(request, reply, options, { note, problem: voided.problem });
  });
};

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  typed: { readonly note: string; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const id = pathId<WorkOrderId>(request.params.id);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), id));
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'record_no_show');
  return sendPage(reply, notThereView({ ...typed, frame, view }), typed.problem?.code);
}
