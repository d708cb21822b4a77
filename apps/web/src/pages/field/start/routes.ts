import { isUuid, type LineId, type WorkOrderId } from '@grainwright/domain';
import { listCautions, releaseSeam, startWork } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type StartPage, startView } from './view.ts';

interface StartAddress {
  Params: { id: string };
}

export const startPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<StartAddress>('/field/work-orders/:id/start', async (request, reply) => {
    return send(request, reply, options, { ...untouched, acknowledgmentId: services.newId() });
  });

  app.post<StartAddress>('/field/work-orders/:id/start', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const sentId = form.text('id').toLowerCase();
    const acknowledgmentId = isUuid(sentId) ? sentId : services.newId();
    const acknowledged = form.all('acknowledge');
    const airbagLamp = form.text('airbag_lamp');
    const lit = airbagLamp === 'on' && !form.all('noticed').includes('airbag_lamp_on');
    const noticed = [...form.all('noticed'), ...(lit ? ['airbag_lamp_on'] : [])];
    const typed = { ...untouched, acknowledgmentId, acknowledged, noticed, airbagLamp };
    if (form.text('look') !== '') return send(request, reply, options, typed);
    const started = await startWork(services, actorOf(request), {
      acknowledgmentId,
      workOrderId,
      acknowledge: acknowledged,
      circumstances: noticed,
      airbagLamp,
    });
    if (!started.ok) {
      return send(request, reply, options, { ...typed, problem: started.problem });
    }
    return reply.redirect(`/field/work-orders/${workOrderId}`, 303);
  });

  app.post<StartAddress>('/field/work-orders/:id/seam-release', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const reason = form.text('reason');
    const lineId = pathId<LineId>(form.text('line_id'));
    const released = await releaseSeam(services, actorOf(request), { workOrderId, lineId, reason });
    if (!released.ok) {
      const { problem } = released;
      return send(request, reply, options, {
        ...untouched,
        acknowledgmentId: services.newId(),
        releaseReason: reason,
        problem,
      });
    }
    return reply.redirect(`/field/work-orders/${workOrderId}/start`, 303);
  });
};

const untouched = { acknowledged: [], noticed: [], airbagLamp: '', releaseReason: '', problem: null };

async function send(
  request: FastifyRequest<StartAddress>,
  reply: FastifyReply,
  options: PageOptions,
  page: Omit<StartPage, 'frame' | 'start'>,
): Promise<FastifyReply> {
  const input = { workOrderId: pathId<WorkOrderId>(request.params.id), circumstances: page.noticed };
  const start = unwrap(await listCautions(options.services, actorOf(request), input));
  const frame = { ...(await frameOf(request, reply, options)), sendingScript: options.assets.urls.sending };
  return sendPage(reply, startView({ ...page, start, frame }), page.problem?.code);
}
