import { isUuid, type MessageId, type Problem, toId, type WorkOrderId } from '@grainwright/domain';
import { readWorkOrder, writeMessage } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { fieldButton, quietLink } from '../../look/buttons.ts';
import { type Html, html } from '../../look/html.ts';
import { accountPage, fieldPage, officePage } from '../../look/layout.ts';
import { type FormValues, formOf } from '../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { pathId } from '../path-id.ts';
import { type Frame, frameOf, type PageOptions } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { workOrderNumber } from './state-words.ts';
import { sendLabel, threadShown } from './thread-parts.ts';

interface ById {
  Params: { id: string };
}

/** Whose pages: at the vehicle, at the desk, the account's. */
export type ThreadFace = 'field' | 'office' | 'account';

/** What is written on a work order, on a page of its own: where a mail leads to, and a message that came back. */
export function threadPages(face: ThreadFace): FastifyPluginAsync<PageOptions> {
  return async (app, options) => {
    const { services } = options;
    const path = `/${face}/work-orders/:id/messages`;

    app.get<ById>(path, (request, reply) =>
      show(request, reply, options, { face, typed: '', problem: null }),
    );

    app.post<ById>(path, async (request, reply) => {
      const form = formOf(request);
      const workOrderId = pathId<WorkOrderId>(request.params.id);
      const id = messageIdIn(form, services.newId);
      const text = form.text('text');
      const written = await writeMessage(services, actorOf(request), { id, workOrderId, text });
      if (written.ok) return reply.redirect(`/${face}/work-orders/${workOrderId}#messages`, 303);
      return show(request, reply, options, { face, id, typed: text, problem: written.problem });
    });
  };
}

/** The id that was made with the page; another one where the form was not whole. */
export function messageIdIn(form: FormValues, fresh: () => string): MessageId {
  const sent = form.text('id').toLowerCase();
  return toId<MessageId>(isUuid(sent) ? sent : fresh());
}

const formId = 'message';

interface ShownThread {
  readonly face: ThreadFace;
  readonly id?: MessageId;
  readonly typed: string;
  readonly problem: Problem | null;
}

async function show(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
  { face, id, typed, problem }: ShownThread,
): Promise<FastifyReply> {
  if (problem?.code === 'not_found' || problem?.code === 'not_allowed') throw new ProblemError(problem);
  const workOrderId = pathId<WorkOrderId>(request.params.id);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), workOrderId));
  const frame = await frameOf(request, reply, options);
  const isSpent = problem?.code === 'id_reused';
  const messageId = id === undefined || isSpent ? options.services.newId() : id;
  const action = `/${face}/work-orders/${workOrderId}/messages`;
  const body = html`
    ${threadShown({
      messages: view.messages,
      timeZone: frame.me.business.timeZone,
      form: {
        action,
        csrfToken: frame.csrfToken,
        messageId,
        typed,
        problem,
        ...(face === 'field' ? { sentById: formId } : {}),
      },
    })}
    <p>${quietLink({ label: 'The whole work order', href: `/${face}/work-orders/${workOrderId}` })}</p>`;
  const lead = `${workOrderNumber(view.number)} · ${view.vehicle.description}`;
  return sendPage(reply, pageOf(face, frame, { lead, body }), problem?.code);
}

function pageOf(
  face: ThreadFace,
  frame: Frame,
  { lead, body }: { readonly lead: string; readonly body: Html },
): Html {
  const page = { ...frame, title: 'Questions and answers', heading: 'Questions and answers', lead, body };
  const scripts = [frame.assets.sending];
  switch (face) {
    case 'field':
      return fieldPage({
        ...page,
        current: null,
        scripts,
        primaryAction: fieldButton({ label: sendLabel, form: formId }),
      });
    case 'office':
      return officePage({ ...page, current: 'work-orders', scripts });
    case 'account':
      return accountPage({ ...page, current: 'vehicles', scripts });
  }
}
