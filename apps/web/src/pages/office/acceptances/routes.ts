import type { AcceptanceId, AccessLinkId, Problem, WorkOrderId } from '@grainwright/domain';
import {
  type AcceptanceRecord,
  giveCopy,
  readAcceptanceRecords,
  readWorkOrder,
  revokeLink,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { copyWish, notSpent, type TypedCopy, typedCopy } from '../../field/acceptance/copy-parts.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { acceptancesView, copyLinkMadeView } from './view.ts';

interface ById {
  Params: { id: string };
}

interface OfAnswer {
  Params: { id: string; acceptanceId: string };
}

/** What is on record of the answers to a work order, and the copies of them. */
export const acceptancesPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ById>('/office/work-orders/:id/acceptances', (request, reply) =>
    show(request, reply, options, null),
  );

  app.post<OfAnswer>('/office/work-orders/:id/acceptances/:acceptanceId/copies', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const acceptanceId = pathId<AcceptanceId>(request.params.acceptanceId);
    const typed = typedCopy(formOf(request), services.newId);
    const wish = copyWish(typed);
    const input = { workOrderId, acceptanceId };
    const given = wish.ok ? await giveCopy(services, actorOf(request), { ...input, copy: wish.value }) : wish;
    const back = `/office/work-orders/${workOrderId}/acceptances`;
    if (!given.ok) {
      const { problem } = given;
      const again = notSpent(typed, problem, services.newId);
      return show(request, reply, options, { acceptanceId, typed: again, problem });
    }
    if (given.value.channel !== 'link') return reply.redirect(`${back}#answer-${acceptanceId}`, 303);
    return sendPage(reply, copyLinkMadeView(await frameOf(request, reply, options), given.value, back));
  });

  app.post<{ Params: { id: string; linkId: string } }>(
    '/office/work-orders/:id/acceptance-copies/:linkId/take-back',
    async (request, reply) => {
      const workOrderId = pathId<WorkOrderId>(request.params.id);
      const linkId = pathId<AccessLinkId>(request.params.linkId);
      unwrap(await revokeLink(services, actorOf(request), { workOrderId, linkId }));
      return reply.redirect(`/office/work-orders/${workOrderId}/acceptances`, 303);
    },
  );
};

interface CameBack {
  readonly acceptanceId: AcceptanceId;
  readonly typed: TypedCopy;
  readonly problem: Problem;
}

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  cameBack: CameBack | null,
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const id = pathId<WorkOrderId>(request.params.id);
  const records = unwrap(await readAcceptanceRecords(services, actor, id));
  const { number, vehicle, notSigned } = unwrap(await readWorkOrder(services, actor, id));
  const copyOf = (record: AcceptanceRecord) => {
    if (cameBack?.acceptanceId === record.id) return cameBack;
    const { signerEmail: email, signerPhone: phone } = record.signer;
    return { typed: { id: services.newId(), channel: '', email, phone }, problem: null };
  };
  const view = acceptancesView({
    frame: await frameOf(request, reply, options),
    path: `/office/work-orders/${id}`,
    heading: `${workOrderNumber(number)}: ${vehicle.description}`,
    records,
    notSigned,
    copyOf,
  });
  return sendPage(reply, view, cameBack?.problem.code);
}
