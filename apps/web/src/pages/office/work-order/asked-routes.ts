import {
  type AccessLinkId,
  type ApprovalAskId,
  isUuid,
  type PersonId,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { askAgain, revokeLink } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { showOfficeWorkOrder } from './routes.ts';

/** Asking an approver once more, and taking a link back. */
export const askedPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.post<{ Params: { id: string } }>('/office/work-orders/:id/asks', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const asked = await askAgain(services, actorOf(request), {
      askId: toId<ApprovalAskId>(isUuid(form.text('id')) ? form.text('id') : services.newId()),
      workOrderId: id,
      personId: toId<PersonId>(isUuid(form.text('person_id')) ? form.text('person_id') : services.newId()),
    });
    if (asked.ok) return reply.redirect(`/office/work-orders/${id}#asked`, 303);
    return showOfficeWorkOrder(request, reply, options, { id, asked: asked.problem });
  });

  app.post<{ Params: { id: string; linkId: string } }>(
    '/office/work-orders/:id/links/:linkId/take-back',
    async (request, reply) => {
      const workOrderId = pathId<WorkOrderId>(request.params.id);
      const linkId = pathId<AccessLinkId>(request.params.linkId);
      unwrap(await revokeLink(services, actorOf(request), { workOrderId, linkId }));
      return reply.redirect(`/office/work-orders/${workOrderId}#asked`, 303);
    },
  );
};
