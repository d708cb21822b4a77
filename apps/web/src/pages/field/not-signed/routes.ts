import {
  isUuid,
  type MissingSignatureId,
  type MissingSignatureReason,
  missingSignatureReasons,
  type Problem,
  type Result,
  refuse,
  toId,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { readWorkOrder, recordNoAcceptance } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { notSignedView, type TypedMissing } from './view.ts';

interface ById {
  Params: { id: string };
}

export const notSignedPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ById>('/field/work-orders/:id/not-signed', async (request, reply) =>
    show(request, reply, options, { id: services.newId(), why: '', reason: '', witness: '' }, null),
  );

  app.post<ById>('/field/work-orders/:id/not-signed', async (request, reply) => {
    const form = formOf(request);
    const sentId = form.text('id').toLowerCase();
    const id = isUuid(sentId) ? sentId : services.newId();
    const typed = { id, why: form.text('why'), reason: form.text('reason'), witness: form.text('witness') };
    const recorded = await keep(request, options, typed);
    if (recorded.ok) return reply.redirect(`/field/work-orders/${pathId(request.params.id)}`, 303);
    const taken = recorded.problem.code === 'id_reused';
    return show(
      request,
      reply,
      options,
      taken ? { ...typed, id: services.newId() } : typed,
      recorded.problem,
    );
  });
};

async function keep(
  request: FastifyRequest<ById>,
  { services }: PageOptions,
  { id, why, reason, witness }: TypedMissing,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  if (!isWhy(why)) return refuse('invalid_input', 'Choose what happened.', 'why');
  return recordNoAcceptance(services, actorOf(request), {
    id: toId<MissingSignatureId>(id),
    workOrderId: pathId<WorkOrderId>(request.params.id),
    why,
    reason,
    witness,
  });
}

function isWhy(text: string): text is MissingSignatureReason {
  return Object.hasOwn(missingSignatureReasons, text);
}

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  typed: TypedMissing,
  problem: Problem | null,
): Promise<FastifyReply> {
  const id = pathId<WorkOrderId>(request.params.id);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), id));
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'take_acceptance');
  return sendPage(reply, notSignedView({ frame, view, typed, problem }), problem?.code);
}
