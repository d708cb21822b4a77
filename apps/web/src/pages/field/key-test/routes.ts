import {
  isUuid,
  type KeyStep,
  type KeyTestId,
  type LineId,
  type Problem,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { readWorkOrder, recordKeyTest } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { keyTestView } from './view.ts';

interface LineAddress {
  Params: { id: string; lineId: string };
}

export const keyTestPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<LineAddress>('/field/work-orders/:id/key-test/:lineId', async (request, reply) =>
    show(request, reply, options, { id: services.newId(), steps: nothingTested, problem: null }),
  );

  app.post<LineAddress>('/field/work-orders/:id/key-test/:lineId', async (request, reply) => {
    const form = formOf(request);
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const sentId = form.text('id').toLowerCase();
    const id = isUuid(sentId) ? sentId : services.newId();
    const steps = {
      battery: form.text('battery'),
      coating: form.text('coating'),
      lock: form.text('lock'),
      unlock: form.text('unlock'),
      trunk: form.text('trunk'),
      horn: form.text('horn'),
    };
    const lineId = pathId<LineId>(request.params.lineId);
    const input = { id: toId<KeyTestId>(id), workOrderId, lineId, steps };
    const tested = await recordKeyTest(services, actorOf(request), input);
    if (tested.ok) return reply.redirect(`/field/work-orders/${workOrderId}`, 303);
    const { problem } = tested;
    const kept = problem.code === 'id_reused' ? services.newId() : id;
    return show(request, reply, options, { id: kept, steps, problem });
  });
};

const nothingTested: Readonly<Record<KeyStep, string>> = {
  battery: '',
  coating: '',
  lock: '',
  unlock: '',
  trunk: '',
  horn: '',
};

async function show(
  request: FastifyRequest<LineAddress>,
  reply: FastifyReply,
  options: PageOptions,
  typed: {
    readonly id: string;
    readonly steps: Readonly<Record<KeyStep, string>>;
    readonly problem: Problem | null;
  },
): Promise<FastifyReply> {
  const workOrderId = pathId<WorkOrderId>(request.params.id);
  const lineId = pathId<LineId>(request.params.lineId);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), workOrderId));
  const line = view.lines.find((each) => each.id === lineId && each.keyRemote);
  if (line === undefined) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  const frame = await frameOf(request, reply, options);
  return sendPage(reply, keyTestView({ ...typed, frame, view, line }), typed.problem?.code);
}
