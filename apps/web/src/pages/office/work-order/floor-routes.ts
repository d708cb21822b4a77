import { isUuid, type LineId, refuse, toId, type WorkOrderId } from '@grainwright/domain';
import { consentBelowFloor } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { showOfficeWorkOrder } from './routes.ts';

/** The owner’s consent to a price below the floor. */
export const officeFloorPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.post<{ Params: { id: string } }>('/office/work-orders/:id/floor-consent', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const [lineId, price, reason] = [form.text('line_id'), form.text('price'), form.text('reason')];
    const consented = isUuid(lineId)
      ? await consentBelowFloor(options.services, actorOf(request), {
          workOrderId: id,
          lineId: toId<LineId>(lineId),
          price,
          reason,
        })
      : refuse('invalid_input', 'Choose the line.', 'line_id');
    if (consented.ok) return reply.redirect(`/office/work-orders/${id}#floor`, 303);
    const { problem } = consented;
    return showOfficeWorkOrder(request, reply, options, { id, floor: { lineId, price, reason, problem } });
  });
};
