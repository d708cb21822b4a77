import { type AccessLinkId, isUuid, type Problem, toId, type WorkOrderId } from '@grainwright/domain';
import { askOwner, readWorkOrder, revokeLink } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { ownerAskedView } from './asked-view.ts';
import { ownerLinkView, type TypedOwner } from './view.ts';

interface ById {
  Params: { id: string };
}

/** A link to a vehicle's owner who has left: made, passed on, taken back. */
export const ownerLinkPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ById>('/field/work-orders/:id/owner-link', (request, reply) =>
    show(request, reply, options, null, null),
  );

  app.post<ById>('/field/work-orders/:id/owner-link', async (request, reply) => {
    const form = formOf(request);
    const sentId = form.text('id').toLowerCase();
    const typed = {
      id: isUuid(sentId) ? sentId : services.newId(),
      ownerName: form.text('owner_name'),
      phone: form.text('phone'),
      email: form.text('email'),
    };
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const { id, ...owner } = typed;
    const asked = await askOwner(services, actorOf(request), {
      linkId: toId<AccessLinkId>(id),
      workOrderId,
      ...owner,
    });
    if (asked.ok) {
      const frame = await frameOf(request, reply, options);
      return sendPage(reply, ownerAskedView(frame, workOrderId, asked.value));
    }
    // A link that was taken back is not made again under its id.
    const isSpent = asked.problem.code === 'id_reused' || asked.problem.code === 'link_revoked';
    const again = isSpent ? { ...typed, id: services.newId() } : typed;
    return show(request, reply, options, again, asked.problem);
  });

  app.post<{ Params: { id: string; linkId: string } }>(
    '/field/work-orders/:id/owner-link/:linkId/take-back',
    async (request, reply) => {
      const workOrderId = pathId<WorkOrderId>(request.params.id);
      const linkId = pathId<AccessLinkId>(request.params.linkId);
      unwrap(await revokeLink(services, actorOf(request), { workOrderId, linkId }));
      return reply.redirect(`/field/work-orders/${workOrderId}/owner-link`, 303);
    },
  );
};

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  typed: TypedOwner | null,
  problem: Problem | null,
): Promise<FastifyReply> {
  const id = pathId<WorkOrderId>(request.params.id);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), id));
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'give_links');
  const last = view.ownerLinks[0];
  const onRecord = {
    id: options.services.newId(),
    ownerName: last?.ownerName ?? view.owner.name,
    phone: last?.phone ?? view.owner.phone,
    email: last?.email ?? '',
  };
  return sendPage(reply, ownerLinkView({ frame, view, typed: typed ?? onRecord, problem }), problem?.code);
}
