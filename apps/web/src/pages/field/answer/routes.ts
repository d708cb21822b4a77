import { isUuid, type PersonId, type Problem, toId, type WorkOrderId } from '@grainwright/domain';
import {
  listApprovers,
  previewRecordedDecision,
  readWorkOrder,
  recordDecision,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { allDeclined, decisionIdIn, givenAnswers, readAnswers } from '../../work-order/answers.ts';
import { markOf } from '../acceptance/mark-of.ts';
import { askView } from './ask-view.ts';
import { signView } from './sign-view.ts';

interface ById {
  Params: { id: string };
}

/** Somebody of the account is there: they answer on the technician’s phone and sign for it, before the work goes on. */
export const fieldAnswerPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<ById>('/field/work-orders/:id/answer', (request, reply) =>
    showAsk(request, reply, options, {
      id: pathId<WorkOrderId>(request.params.id),
      form: null,
      problem: null,
    }),
  );

  app.post<ById>('/field/work-orders/:id/answer/preview', (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    return showSign(request, reply, options, { id, form: formOf(request), problem: null });
  });

  app.post<ById>('/field/work-orders/:id/answer', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const said = saidIn(form);
    const mark = markOf(form);
    if (said === null || !mark.ok)
      return showSign(request, reply, options, { id, form, problem: mark.ok ? null : mark.problem });
    const declinesAll = form.text('choice') === 'decline_all';
    const device = request.headers['user-agent'] ?? '';
    const decided = await recordDecision(options.services, actorOf(request), {
      decisionId: decisionIdIn(form, options.services.newId),
      workOrderId: id,
      decidedBy: said.decidedBy,
      given: 'in_person',
      versionId: said.versionId,
      digest: said.digest,
      answers: declinesAll ? allDeclined(said) : givenAnswers(said),
      total: declinesAll ? '0' : form.text('total'),
      signature: { mark: mark.value, signerName: form.text('signer_name'), device },
    });
    if (decided.ok) return reply.redirect(`/field/work-orders/${id}`, 303);
    return showSign(request, reply, options, { id, form, problem: decided.problem });
  });
};

/** Who says it and to what; null where the form is not whole. */
function saidIn(form: FormValues) {
  const person = form.text('decided_by');
  const { versionId, ...typed } = readAnswers(form);
  if (!isUuid(person) || versionId === null) return null;
  return { decidedBy: toId<PersonId>(person), versionId, ...typed };
}

interface Asked {
  readonly id: WorkOrderId;
  readonly form: FormValues | null;
  readonly problem: Problem | null;
}

async function showAsk(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { id, form, problem }: Asked,
): Promise<FastifyReply> {
  if (problem?.code === 'not_allowed' || problem?.code === 'not_found') throw new ProblemError(problem);
  const actor = actorOf(request);
  const view = unwrap(await readWorkOrder(options.services, actor, id));
  const approvers = unwrap(await listApprovers(options.services, actor, id));
  const frame = await frameOf(request, reply, options);
  const typed = form === null ? [] : readAnswers(form).answers;
  const page = { frame, view, approvers, decidedBy: form?.text('decided_by') ?? '', typed, problem };
  return sendPage(reply, askView(page), problem?.code);
}

async function showSign(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  asked: Asked & { readonly form: FormValues },
): Promise<FastifyReply> {
  const { id, form, problem } = asked;
  const actor = actorOf(request);
  const said = saidIn(form);
  if (said === null) return showAsk(request, reply, options, { id, form, problem: problem ?? nobody });
  const input = { workOrderId: id, ...said, answers: givenAnswers(said) };
  const preview = await previewRecordedDecision(options.services, actor, input);
  if (!preview.ok) return showAsk(request, reply, options, { id, form, problem: preview.problem });
  const view = unwrap(await readWorkOrder(options.services, actor, id));
  const approvers = unwrap(await listApprovers(options.services, actor, id));
  const signer = approvers.find(({ personId }) => personId === said.decidedBy)?.name ?? '';
  const page = {
    frame: await frameOf(request, reply, options),
    view,
    preview: preview.value,
    decisionId: decisionIdIn(form, options.services.newId),
    decidedBy: said.decidedBy,
    signed: {
      name: form.text('signer_name') === '' ? signer : form.text('signer_name'),
      strokes: form.text('signature'),
      confirmed: form.checked('confirmed'),
    },
    problem,
  };
  return sendPage(reply, signView(page), problem?.code);
}

const nobody: Problem = {
  code: 'invalid_input',
  detail: 'Choose who of the account answers.',
  field: 'decided_by',
};
