import { isUuid, type PhotoId, type PhotoOverrideId, toId, type WorkOrderId } from '@grainwright/domain';
import { keepInSpite } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';

interface KeepAddress {
  Params: { id: string; photoId: string };
}

/** “Keep it, because …”: the answer to a warning, where it is no new picture. */
export const keepPhotoPages: FastifyPluginAsync<PageOptions> = async (app, { services }) => {
  app.post<KeepAddress>('/field/work-orders/:id/photos/:photoId/keep', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const overrideId = form.text('override_id').toLowerCase();
    if (!isUuid(overrideId))
      throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
    unwrap(
      await keepInSpite(services, actorOf(request), {
        overrideId: toId<PhotoOverrideId>(overrideId),
        photoId: pathId<PhotoId>(request.params.photoId),
        workOrderId,
        reason: form.text('reason'),
      }),
    );
    return reply.redirect(`/field/work-orders/${workOrderId}/photos#kept`, 303);
  });
};
