import { isUuid, type Problem, toId, type VersionId, type WorkOrderId } from '@grainwright/domain';
import {
  changeWriteUp,
  listEarlierWork,
  listWriteUpWarnings,
  readLineToRepeat,
  readQuotes,
  readWorkOrder,
  submitEstimate,
  type WorkOrderView,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { firstOrder } from '../../work-order/first-order.ts';
import { typedWriteUp } from '../write-up/write-up-form.ts';
import { detailsPage, typedDetails } from './details-view.ts';
import { fieldWorkOrderPage } from './view.ts';

interface ById {
  Params: { id: string };
  Querystring: { sent?: string; kept?: string };
}

/** One work order at the vehicle, its details, and sending its estimate. */
export const fieldWorkOrderPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  const read = async (request: FastifyRequest<ById>) =>
    unwrap(await readWorkOrder(services, actorOf(request), pathId<WorkOrderId>(request.params.id)));

  app.get<ById>('/field/work-orders/:id', async (request, reply) =>
    show(request, reply, options, await read(request), null),
  );

  app.post<ById>('/field/work-orders/:id/estimate', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const typed = formOf(request).text('version_id').toLowerCase();
    const versionId = toId<VersionId>(isUuid(typed) ? typed : services.newId());
    const sent = await submitEstimate(services, actorOf(request), { workOrderId, versionId });
    if (sent.ok) return reply.redirect(`/field/work-orders/${workOrderId}?sent=yes`, 303);
    return show(request, reply, options, await read(request), sent.problem);
  });

  app.get<ById>('/field/work-orders/:id/details', async (request, reply) => {
    const view = await read(request);
    const frame = await frameOf(request, reply, options);
    return sendPage(reply, detailsPage({ frame, view, typed: typedDetails(view), problem: null }));
  });

  app.post<ById>('/field/work-orders/:id/details', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const form = typedWriteUp(formOf(request));
    const { ownNumber, roNumber, poNumber, ownerName, ownerPhone } = form;
    const { odometerMiles } = form;
    const typed = { ownNumber, roNumber, poNumber, ownerName, ownerPhone, odometerMiles };
    const changed = await changeWriteUp(services, actorOf(request), { workOrderId, ...typed });
    if (changed.ok) return reply.redirect(`/field/work-orders/${workOrderId}`, 303);
    const view = await read(request);
    const frame = await frameOf(request, reply, options);
    return sendPage(
      reply,
      detailsPage({ frame, view, typed, problem: changed.problem }),
      changed.problem.code,
    );
  });
};

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  view: WorkOrderView,
  problem: Problem | null,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const earlier =
    view.state === 'written_up'
      ? unwrap(await listEarlierWork(options.services, actorOf(request), view.id))
      : [];
  const warnings =
    view.state === 'written_up'
      ? unwrap(await listWriteUpWarnings(options.services, actorOf(request), view.id))
      : [];
  const page = fieldWorkOrderPage({
    frame,
    view,
    versionId: options.services.newId(),
    messageId: options.services.newId(),
    earlier,
    warnings,
    last: unwrap(await readLineToRepeat(options.services, actorOf(request), view.id)),
    repeatId: options.services.newId(),
    isJustSent: request.query.sent === 'yes',
    keptPhoto: view.photos.find(({ id }) => id === request.query.kept)?.purpose ?? null,
    first: await firstOrder(options.services, actorOf(request), view),
    quoted:
      view.reworkOf === null ? unwrap(await readQuotes(options.services, actorOf(request), view.id)) : null,
    quoteId: options.services.newId(),
    problem,
  });
  return sendPage(reply, page, problem?.code);
}
