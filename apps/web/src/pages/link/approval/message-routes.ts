import type { MessageId, Problem, WorkOrderId } from '@grainwright/domain';
import { checkAsked, openLink, readAskedVisit, writeMessage } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { html } from '../../../look/html.ts';
import { formOf } from '../../../plugins/forms.ts';
import {
  type ApprovalLink,
  approvalLinkOf,
  type LinkParams,
  linkPath,
  linkRoute,
  wrongPurpose,
} from '../../../plugins/link.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { threadShown } from '../../work-order/thread-parts.ts';
import { messageIdIn } from '../../work-order/thread-routes.ts';
import { notTakenView } from '../acceptance/not-taken-view.ts';
import { approvalPage, vehicleAddress } from './vehicle-parts.ts';

type ById = { Params: LinkParams & { readonly id: string } };

/** What a contact asks and answers by their link. */
export const linkMessagePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services, assets } = options;

  app.get<ById>('/link/:token/work-orders/:id/messages', linkRoute, async (request, reply) => {
    const link = await approvalLinkOf(services, request);
    return show(request, reply, options, { link, typed: '', problem: null });
  });

  app.post<ById>('/link/:token/work-orders/:id/messages', linkRoute, async (request, reply) => {
    const form = formOf(request);
    const text = form.text('text');
    const opened = await openLink(services, { token: request.params.token, fromAddress: request.ip });
    if (!opened.ok) {
      if (text === '') throw new ProblemError(opened.problem);
      const page = notTakenView({ assets: assets.urls, remark: text, problem: opened.problem });
      return sendPage(reply, page, opened.problem.code);
    }
    const link = opened.value;
    if (link.purpose !== 'approval') throw wrongPurpose();
    const workOrderId = unwrap(await checkAsked(services, link, pathId<WorkOrderId>(request.params.id)));
    const id = messageIdIn(form, services.newId);
    const written = await writeMessage(services, link.actor, { id, workOrderId, text });
    if (written.ok) return reply.redirect(`${linkPath(request)}/work-orders/${workOrderId}#messages`, 303);
    return show(request, reply, options, { link, id, typed: text, problem: written.problem });
  });
};

interface ShownThread {
  readonly link: ApprovalLink;
  readonly id?: MessageId;
  readonly typed: string;
  readonly problem: Problem | null;
}

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  { services, assets }: PageOptions,
  { link, id, typed, problem }: ShownThread,
): Promise<FastifyReply> {
  const workOrderId = unwrap(await checkAsked(services, link, pathId<WorkOrderId>(request.params.id)));
  const visit = unwrap(await readAskedVisit(services, link));
  const view = visit.workOrders.find((each) => each.id === workOrderId);
  if (view === undefined) throw new Error('a link opens a work order that is not there');
  const frame = { visit, path: linkPath(request), assets: assets.urls };
  const isSpent = problem?.code === 'id_reused';
  const messageId = id === undefined || isSpent ? services.newId() : id;
  const address = vehicleAddress(frame, workOrderId);
  const page = approvalPage(frame, {
    heading: 'Questions and answers',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    body: html`
      ${threadShown({
        messages: view.messages,
        timeZone: visit.business.timeZone,
        form: { action: `${address}/messages`, csrfToken: null, messageId, typed, problem },
      })}
      <p><a href="${address}">The pictures and prices</a></p>`,
  });
  return sendPage(reply, page, problem?.code);
}
