import {
  isUuid,
  type Problem,
  type Result,
  type ReworkReason,
  refuse,
  reworkReasons,
  toId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { readWorkOrder, reworkable, type WrittenUp, writeRework } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { reworkView, type TypedRework } from './view.ts';

interface ById {
  Params: { id: string };
}

export const reworkPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ById>('/field/work-orders/:id/rework', async (request, reply) => {
    const ids = { id: services.newId(), visitId: services.newId() };
    const typed = { ...ids, reason: '', day: '', afterHours: false, rush: false };
    return show(request, reply, options, typed, null);
  });

  app.post<ById>('/field/work-orders/:id/rework', async (request, reply) => {
    const typed = typedRework(formOf(request), services.newId);
    const written = await write(request, options, typed);
    if (written.ok) return reply.redirect(`/field/work-orders/${written.value.workOrderId}`, 303);
    const taken = written.problem.code === 'id_reused';
    const kept = taken ? { ...typed, id: services.newId(), visitId: services.newId() } : typed;
    return show(request, reply, options, kept, written.problem);
  });
};

async function write(
  request: FastifyRequest<ById>,
  { services }: PageOptions,
  { id, visitId, reason, day, afterHours, rush }: TypedRework,
): Promise<Result<WrittenUp>> {
  if (!isReason(reason)) return refuse('invalid_input', 'Choose what came back.', 'reason');
  return writeRework(services, actorOf(request), {
    id: toId<WorkOrderId>(id),
    visitId: toId<VisitId>(visitId),
    reworkOfId: pathId<WorkOrderId>(request.params.id),
    reason,
    day,
    afterHours,
    rush,
  });
}

function isReason(text: string): text is ReworkReason {
  return Object.hasOwn(reworkReasons, text);
}

function typedRework(form: FormValues, newId: () => string): TypedRework {
  const idIn = (name: string) => {
    const text = form.text(name).toLowerCase();
    return isUuid(text) ? text : newId();
  };
  return {
    id: idIn('id'),
    visitId: idIn('visit_id'),
    reason: form.text('reason'),
    day: form.text('day'),
    afterHours: form.checked('after_hours'),
    rush: form.checked('rush'),
  };
}

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  typed: TypedRework,
  problem: Problem | null,
): Promise<FastifyReply> {
  const id = pathId<WorkOrderId>(request.params.id);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), id));
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'write_up');
  const open = reworkable.includes(view.state);
  return sendPage(reply, reworkView({ frame, view, open, typed, problem }), problem?.code);
}
