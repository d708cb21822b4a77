import { isUuid, type LineId, toId, type WorkOrderId } from '@grainwright/domain';
import {
  finishWork,
  type LineWorkInput,
  type OverrideInput,
  reviewWork,
  type WorkReview,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { photoReasonsOf } from './photo-reasons.ts';
import { contradictionKey, type FinishPage, finishView } from './view.ts';

interface FinishAddress {
  Params: { id: string };
}

export const finishPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<FinishAddress>('/field/work-orders/:id/finish', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const review = unwrap(await reviewWork(services, actorOf(request), { workOrderId, work: [] }));
    return send(request, reply, options, {
      review,
      layersTyped: new Map(),
      overrides: [],
      photoReasons: [],
      costs: { technicianMinutes: '', materialsCost: '', airbagLamp: '' },
      tried: false,
      problem: null,
    });
  });

  app.post<FinishAddress>('/field/work-orders/:id/finish', async (request, reply) => {
    const actor = actorOf(request);
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const work = workOf(form);
    const read = await reviewWork(services, actor, {
      workOrderId,
      work,
      airbagLamp: form.text('airbag_lamp'),
    });
    const review = read.ok
      ? read.value
      : unwrap(await reviewWork(services, actor, { workOrderId, work: [] }));
    const overrides = overridesOf(form, review);
    const costs = {
      technicianMinutes: form.text('technician_minutes'),
      materialsCost: form.text('materials_cost'),
      airbagLamp: form.text('airbag_lamp'),
    };
    const layersTyped = new Map(work.map(({ lineId, layers }) => [lineId, layers]));
    const photoReasons = photoReasonsOf(form, review.photoWarnings);
    const again = { review, layersTyped, overrides, photoReasons, costs, tried: true };
    // What is only asked is asked once, before anything is written.
    const toAsk = review.contradictions.some(({ weight }) => weight === 'ask') && !form.checked('asked');
    if (read.ok && toAsk) return send(request, reply, options, { ...again, problem: null });
    const finished = read.ok
      ? await finishWork(services, actor, { workOrderId, work, overrides, photoReasons, ...costs })
      : read;
    if (finished.ok) {
      const next = finished.value.state === 'done' ? '/acceptance' : '';
      return reply.redirect(`/field/work-orders/${workOrderId}${next}`, 303);
    }
    return send(request, reply, options, { ...again, problem: finished.problem });
  });
};

/** What the form says of each line; nothing, where another page only pressed the button. */
function workOf(form: FormValues): readonly LineWorkInput[] {
  if (!form.checked('described')) return [];
  return form
    .all('line')
    .filter(isUuid)
    .map((lineId) => ({
      lineId: toId<LineId>(lineId),
      methods: form.all(`methods-${lineId}`),
      layers: form.text(`layers-${lineId}`),
    }));
}

function overridesOf(form: FormValues, review: WorkReview): readonly OverrideInput[] {
  return review.contradictions.map(({ code, lineId }) => ({
    code,
    lineId,
    reason: form.text(`reason-${contradictionKey({ code, lineId })}`),
  }));
}

async function send(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  page: Omit<FinishPage, 'frame' | 'newId'>,
): Promise<FastifyReply> {
  const frame = { ...(await frameOf(request, reply, options)), sendingScript: options.assets.urls.sending };
  return sendPage(reply, finishView({ ...page, frame, newId: options.services.newId }), page.problem?.code);
}
