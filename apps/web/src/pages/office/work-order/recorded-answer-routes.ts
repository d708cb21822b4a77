import type { PersonId, Problem, VersionId, WorkOrderId } from '@grainwright/domain';
import {
  type LineAnswer,
  previewRecordedDecision,
  type RecordDecisionInput,
  readWorkOrder,
  recordDecision,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
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
import { readSaidBy } from './recorded-answer-form.ts';
import { recordedPreviewView } from './recorded-preview-view.ts';
import { showOfficeWorkOrder } from './routes.ts';

interface ById {
  Params: { id: string };
}

/** The answer of somebody of the account, written down at the desk: first the new total, then the answer. */
export const recordedAnswerPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.post<ById>('/office/work-orders/:id/preview', async (request, reply) => {
    const asked = { id: pathId<WorkOrderId>(request.params.id), form: formOf(request), problem: null };
    return showPreview(request, reply, options, asked);
  });

  app.post<ById>('/office/work-orders/:id/decision', async (request, reply) => {
    const id = pathId<WorkOrderId>(request.params.id);
    const form = formOf(request);
    const said = saidIn(form);
    if (!said.ok) return showPreview(request, reply, options, { id, form, problem: null });
    const declinesAll = form.text('choice') === 'decline_all';
    const decided = await recordDecision(options.services, actorOf(request), {
      decisionId: decisionIdIn(form, options.services.newId),
      workOrderId: id,
      ...said.value,
      answers: declinesAll ? allDeclined(said.value.typed) : said.value.answers,
      total: declinesAll ? '0' : form.text('total'),
    });
    if (decided.ok) return reply.redirect(`/office/work-orders/${id}`, 303);
    return showPreview(request, reply, options, { id, form, problem: decided.problem });
  });
};

interface Said {
  readonly decidedBy: PersonId;
  readonly given: RecordDecisionInput['given'];
  readonly versionId: VersionId;
  readonly digest: string;
  readonly answers: readonly LineAnswer[];
  readonly typed: TypedAnswers;
}

function saidIn(
  form: FormValues,
): { readonly ok: true; readonly value: Said } | { readonly ok: false; readonly problem: Problem } {
  const typed = readAnswers(form);
  const { decidedBy, given } = readSaidBy(form);
  const missing = (detail: string, field: string) => ({
    ok: false as const,
    problem: { code: 'invalid_input' as const, detail, field },
  });
  if (decidedBy === null) return missing('Choose who of the account said it.', 'decided_by');
  if (given === null) return missing('Choose how they said it.', 'given');
  if (typed.versionId === null)
    return missing('The form was not complete. Look the estimate over and try again.', 'version_id');
  const { versionId, digest } = typed;
  return { ok: true, value: { decidedBy, given, versionId, digest, answers: givenAnswers(typed), typed } };
}

async function showPreview(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  {
    id,
    form,
    problem,
  }: { readonly id: WorkOrderId; readonly form: FormValues; readonly problem: Problem | null },
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const typed = { ...readSaidBy(form), answers: readAnswers(form).answers };
  const said = saidIn(form);
  if (!said.ok)
    return showOfficeWorkOrder(request, reply, options, { id, answer: { typed, problem: said.problem } });
  const preview = await previewRecordedDecision(services, actor, { workOrderId: id, ...said.value });
  if (!preview.ok)
    return showOfficeWorkOrder(request, reply, options, { id, answer: { typed, problem: preview.problem } });
  const view = unwrap(await readWorkOrder(services, actor, id));
  const frame = await frameOf(request, reply, options);
  const decisionId = decisionIdIn(form, services.newId);
  const { decidedBy, given } = said.value;
  return sendPage(
    reply,
    recordedPreviewView({ frame, view, preview: preview.value, decisionId, decidedBy, given, problem }),
    problem?.code,
  );
}
