import { type PassedOnId, type Problem, toId, type WorkOrderId } from '@grainwright/domain';
import {
  decideEstimate,
  giveNumbers,
  passOnAnswer,
  previewDecision,
  readWorkOrder,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import {
  allDeclined,
  decisionIdIn,
  givenAnswers,
  readAnswers,
  type TypedAnswers,
} from '../../work-order/answers.ts';
import { firstOrder } from '../../work-order/first-order.ts';
import { type NumbersTyped, noNumbersTyped } from './numbers-form.ts';
import { previewView } from './preview-view.ts';
import { workOrderView } from './view.ts';

interface ById {
  Params: { id: string };
}

/** One work order as the account sees it, the approver’s answer, and the numbers that the account owes. */
export const accountWorkOrderPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ById>('/account/work-orders/:id', async (request, reply) =>
    showWorkOrder(request, reply, options, pathId<WorkOrderId>(request.params.id), {}),
  );

  app.post<ById>('/account/work-orders/:id/preview', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    return showPreview(request, reply, options, { id, form: formOf(request), problem: null });
  });

  app.post<ById>('/account/work-orders/:id/decision', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const typed = readAnswers(form);
    if (typed.versionId === null)
      return showWorkOrder(request, reply, options, id, { problem: noVersion, typed });
    const declinesAll = form.text('choice') === 'decline_all';
    const decided = await decideEstimate(options.services, actorOf(request), {
      decisionId: decisionIdIn(form, options.services.newId),
      workOrderId: id,
      versionId: typed.versionId,
      digest: typed.digest,
      photoIds: typed.photoIds,
      answers: declinesAll ? allDeclined(typed) : givenAnswers(typed),
      total: declinesAll ? '0' : form.text('total'),
    });
    if (decided.ok) return reply.redirect(`/account/work-orders/${id}`, 303);
    return showPreview(request, reply, options, { id, form, problem: decided.problem });
  });

  app.post<ById>('/account/work-orders/:id/passed-on', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const typed = readAnswers(form);
    if (typed.versionId === null)
      return showWorkOrder(request, reply, options, id, { problem: noVersion, typed });
    const passed = await passOnAnswer(options.services, actorOf(request), {
      passedOnId: toId<PassedOnId>(decisionIdIn(form, options.services.newId)),
      workOrderId: id,
      versionId: typed.versionId,
      digest: typed.digest,
      answers: givenAnswers(typed),
      total: form.text('total'),
    });
    if (passed.ok) return reply.redirect(`/account/work-orders/${id}`, 303);
    return showPreview(request, reply, options, { id, form, problem: passed.problem });
  });

  app.post<ById>('/account/work-orders/:id/numbers', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const typed = {
      ownNumber: form.text('own_number'),
      roNumber: form.text('ro_number'),
      poNumber: form.text('po_number'),
    };
    const given = await giveNumbers(options.services, actorOf(request), { workOrderId: id, ...typed });
    const back = form.text('from') === 'needs' ? '/account' : `/account/work-orders/${id}`;
    if (given.ok) return reply.redirect(back, 303);
    return showWorkOrder(request, reply, options, id, { numbers: { typed, problem: given.problem } });
  });
};

const noVersion: Problem = {
  code: 'invalid_input',
  detail: 'The form was not complete. Look the estimate over and answer it again.',
};

/**
 * The new total and the buttons to send it, also after a refusal that a different answer can mend. What can’t be
 * answered any more comes back as the work order as it is now, with what was typed.
 */
async function showPreview(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  asked: { readonly id: WorkOrderId; readonly form: FormValues; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const typed = readAnswers(asked.form);
  if (typed.versionId === null)
    return showWorkOrder(request, reply, options, asked.id, { problem: noVersion, typed });
  const input = {
    workOrderId: asked.id,
    versionId: typed.versionId,
    digest: typed.digest,
    answers: givenAnswers(typed),
  };
  const preview = await previewDecision(services, actor, input);
  if (!preview.ok)
    return showWorkOrder(request, reply, options, asked.id, { problem: preview.problem, typed });
  const view = unwrap(await readWorkOrder(services, actor, asked.id));
  const page = {
    frame: await frameOf(request, reply, options),
    view,
    preview: preview.value,
    decisionId: decisionIdIn(asked.form, services.newId),
    typed: typed.answers,
    photoIds: typed.photoIds,
    problem: asked.problem,
  };
  return sendPage(reply, previewView(page), asked.problem?.code);
}

/** A form that came back: the answers, or the numbers. */
interface SentForm {
  readonly problem?: Problem;
  readonly typed?: TypedAnswers;
  readonly numbers?: NumbersTyped;
}

async function showWorkOrder(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  id: WorkOrderId,
  sent: SentForm,
): Promise<FastifyReply> {
  const { problem = null, typed, numbers = noNumbersTyped } = sent;
  const refused = problem ?? numbers.problem;
  if (refused?.code === 'not_allowed' || refused?.code === 'not_signed_in') throw new ProblemError(refused);
  const view = unwrap(await readWorkOrder(options.services, actorOf(request), id));
  const frame = await frameOf(request, reply, options);
  const first = await firstOrder(options.services, actorOf(request), view);
  const messageId = options.services.newId();
  const page = { frame, view, problem, typed: typed?.answers ?? [], numbers, messageId, first };
  return sendPage(reply, workOrderView(page), refused?.code);
}
