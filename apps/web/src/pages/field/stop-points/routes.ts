import {
  isUuid,
  type LineId,
  type PhotoId,
  type Problem,
  type StopPointId,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { addStopPoint, readWorkOrder, type WorkOrderView } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { stopPointsView, type TypedStopPoint } from './view.ts';

interface ById {
  Params: { id: string };
}

export const stopPointPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  const read = async (request: FastifyRequest<ById>) =>
    unwrap(await readWorkOrder(services, actorOf(request), pathId<WorkOrderId>(request.params.id)));

  app.get<ById>('/field/work-orders/:id/stop-points', async (request, reply) => {
    const typed = { id: services.newId(), photoId: '', note: '', shown: true };
    return show(request, reply, options, { view: await read(request), typed, problem: null });
  });

  app.post<ById>('/field/work-orders/:id/stop-points', async (request, reply) => {
    const form = formOf(request);
    const view = await read(request);
    const sentId = form.text('id').toLowerCase();
    const typed = {
      id: isUuid(sentId) ? sentId : services.newId(),
      photoId: form.text('photo_id').toLowerCase(),
      note: form.text('note'),
      shown: form.checked('shown'),
    };
    const picture = view.photos.find((photo) => photo.id === typed.photoId);
    if (picture === undefined || picture.lineId === null)
      return show(request, reply, options, { view, typed, problem: noPicture });
    const added = await addStopPoint(services, actorOf(request), {
      id: toId<StopPointId>(typed.id),
      workOrderId: view.id,
      lineId: toId<LineId>(picture.lineId),
      photoId: toId<PhotoId>(picture.id),
      note: typed.note,
      shown: typed.shown,
    });
    if (added.ok) return reply.redirect(`/field/work-orders/${view.id}`, 303);
    const { problem } = added;
    const kept = problem.code === 'id_reused' ? { ...typed, id: services.newId() } : typed;
    return show(request, reply, options, { view, typed: kept, problem });
  });
};

const noPicture: Problem = {
  code: 'photo_missing',
  detail: 'Choose the picture that shows where you stopped.',
  field: 'photo_id',
};

async function show(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  page: {
    readonly view: WorkOrderView;
    readonly typed: TypedStopPoint;
    readonly problem: Problem | null;
  },
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  return sendPage(reply, stopPointsView({ ...page, frame }), page.problem?.code);
}
