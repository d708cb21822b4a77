import {
  type DecisionId,
  isUuid,
  type PassedOnId,
  type PhotoId,
  type Problem,
  type Result,
  toId,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type AnsweredOne,
  type ApprovedAsShown,
  approveSeveral,
  checkAsked,
  decideEstimate,
  giveNumbers,
  openLink,
  passOnAnswer,
  previewDecision,
  readAskedVisit,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import {
  type ApprovalLink,
  approvalLinkOf,
  type LinkParams,
  linkPath,
  linkRoute,
  wrongPurpose,
} from '../../../plugins/link.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { type NumbersTyped, noNumbersTyped } from '../../account/work-order/numbers-form.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import {
  allDeclined,
  decisionIdIn,
  givenAnswers,
  readAnswers,
  type TypedAnswers,
} from '../../work-order/answers.ts';
import { notTakenView } from '../acceptance/not-taken-view.ts';
import { linkMessagePages } from './message-routes.ts';
import { overviewView } from './overview.ts';
import { linkPreviewView } from './preview-view.ts';
import { severalView } from './several-view.ts';
import type { LinkFrame } from './vehicle-parts.ts';
import { vehicleView } from './vehicle-view.ts';

type Request = FastifyRequest<{ Params: LinkParams }>;
type ById = { Params: LinkParams & { readonly id: string } };

/** What a contact answers by their link. Looking changes nothing; only forms that are sent do. */
export const approvalPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ById>('/link/:token/work-orders/:id', linkRoute, async (request, reply) => {
    const link = await approvalLinkOf(services, request);
    return showVehicle(request, reply, options, { link, id: pathId<WorkOrderId>(request.params.id) });
  });

  app.post<{ Params: LinkParams }>('/link/:token/approvals', linkRoute, async (request, reply) => {
    const link = await answeringLink(options, request, reply);
    if (link === null) return reply;
    const answered: AnsweredOne[] = [];
    const asked: ApprovedAsShown[] = [];
    for (const shown of severalIn(formOf(request), services.newId)) {
      const opens = await checkAsked(services, link, shown.workOrderId);
      if (opens.ok) asked.push(shown);
      else answered.push({ workOrderId: shown.workOrderId, decided: null, problem: opens.problem });
    }
    if (asked.length > 0 || answered.length === 0)
      answered.push(...unwrap(await approveSeveral(services, link.actor, asked)));
    const refused = answered.find(({ problem }) => problem !== null)?.problem;
    return sendPage(reply, severalView(await frameOf(request, options, link), answered), refused?.code);
  });

  await app.register(answeringPages, options);
  await app.register(linkMessagePages, options);
};

const answeringPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.post<ById>('/link/:token/work-orders/:id/preview', linkRoute, async (request, reply) => {
    const sent = await sentBy(request, reply, options);
    return sent === null ? reply : showPreview(request, reply, options, { ...sent, problem: null });
  });

  app.post<ById>('/link/:token/work-orders/:id/decision', linkRoute, async (request, reply) => {
    const sent = await sentBy(request, reply, options);
    if (sent === null) return reply;
    const { link, id, form, typed } = sent;
    if (typed.versionId === null)
      return showVehicle(request, reply, options, { link, id, typed, problem: noVersion });
    const declinesAll = form.text('choice') === 'decline_all';
    const decided = await decideEstimate(services, link.actor, {
      decisionId: decisionIdIn(form, services.newId),
      workOrderId: id,
      versionId: typed.versionId,
      digest: typed.digest,
      photoIds: typed.photoIds,
      answers: declinesAll ? allDeclined(typed) : givenAnswers(typed),
      total: declinesAll ? '0' : form.text('total'),
    });
    if (decided.ok) return reply.redirect(`${linkPath(request)}/work-orders/${id}`, 303);
    return showPreview(request, reply, options, { ...sent, problem: decided.problem });
  });

  app.post<ById>('/link/:token/work-orders/:id/passed-on', linkRoute, async (request, reply) => {
    const sent = await sentBy(request, reply, options);
    if (sent === null) return reply;
    const { link, id, form, typed } = sent;
    if (typed.versionId === null)
      return showVehicle(request, reply, options, { link, id, typed, problem: noVersion });
    const passed = await passOnAnswer(services, link.actor, {
      passedOnId: toId<PassedOnId>(decisionIdIn(form, services.newId)),
      workOrderId: id,
      versionId: typed.versionId,
      digest: typed.digest,
      answers: givenAnswers(typed),
      total: form.text('total'),
    });
    if (passed.ok) return reply.redirect(`${linkPath(request)}/work-orders/${id}`, 303);
    return showPreview(request, reply, options, { ...sent, problem: passed.problem });
  });

  app.post<ById>('/link/:token/work-orders/:id/numbers', linkRoute, async (request, reply) => {
    const sent = await sentBy(request, reply, options);
    if (sent === null) return reply;
    const { link, id, form } = sent;
    const typed = {
      ownNumber: form.text('own_number'),
      roNumber: form.text('ro_number'),
      poNumber: form.text('po_number'),
    };
    const given = await giveNumbers(services, link.actor, { workOrderId: id, ...typed });
    if (given.ok) return reply.redirect(`${linkPath(request)}/work-orders/${id}`, 303);
    return showVehicle(request, reply, options, { link, id, numbers: { typed, problem: given.problem } });
  });
};

const noVersion: Problem = {
  code: 'invalid_input',
  detail: 'The form was not complete. Look the estimate over and answer it again.',
};

/** What the link opens first: the one vehicle, or all of them. */
export async function showAsked(
  request: Request,
  reply: FastifyReply,
  options: PageOptions,
  link: ApprovalLink,
): Promise<FastifyReply> {
  const frame = await frameOf(request, options, link);
  const [only, ...others] = frame.visit.workOrders;
  if (only !== undefined && others.length === 0)
    return showVehicle(request, reply, options, { link, id: only.id });
  return sendPage(
    reply,
    overviewView(frame, () => toId<DecisionId>(options.services.newId())),
  );
}

async function frameOf(
  request: Request,
  { services, assets }: PageOptions,
  link: ApprovalLink,
): Promise<LinkFrame> {
  const visit = unwrap(await readAskedVisit(services, link));
  return { visit, path: linkPath(request), assets: assets.urls };
}

interface Sent {
  readonly link: ApprovalLink;
  readonly id: WorkOrderId;
  readonly form: FormValues;
  readonly typed: TypedAnswers;
}

/** A form about one vehicle; null where it was answered already, because the link opens nothing any more. */
async function sentBy(
  request: FastifyRequest<ById>,
  reply: FastifyReply,
  options: PageOptions,
): Promise<Sent | null> {
  const link = await answeringLink(options, request, reply);
  if (link === null) return null;
  const form = formOf(request);
  const id = unwrap(await checkAsked(options.services, link, pathId<WorkOrderId>(request.params.id)));
  return { link, id, form, typed: readAnswers(form) };
}

/** The link of a form that was sent. Where it opens nothing any more, the words that were typed are given back. */
async function answeringLink(
  { services, assets }: PageOptions,
  request: Request,
  reply: FastifyReply,
): Promise<ApprovalLink | null> {
  const opened = await openLink(services, { token: request.params.token, fromAddress: request.ip });
  if (opened.ok && opened.value.purpose === 'approval') return opened.value;
  if (opened.ok) throw wrongPurpose();
  const written = typedWords(formOf(request));
  if (written === '') throw new ProblemError(opened.problem);
  const page = notTakenView({ assets: assets.urls, remark: written, problem: opened.problem });
  sendPage(reply, page, opened.problem.code);
  return null;
}

/** Reasons and numbers: all that is typed on these pages. */
function typedWords(form: FormValues): string {
  return form
    .entries()
    .filter(
      ([name, value]) => /^(reason-|own_number$|ro_number$|po_number$)/.test(name) && value.trim() !== '',
    )
    .map(([, value]) => value.trim())
    .join('; ');
}

/** Of the form that says yes to several vehicles: each as it was shown. What lacks a part of it is left out. */
function severalIn(form: FormValues, fresh: () => string): readonly ApprovedAsShown[] {
  return form
    .text('work_orders')
    .split(',')
    .filter(isUuid)
    .flatMap((id) => {
      const version = form.text(`version-${id}`);
      const decision = form.text(`decision-${id}`);
      if (!isUuid(version)) return [];
      const photos = form.text(`photos-${id}`).split(',').filter(isUuid);
      return [
        {
          workOrderId: toId<WorkOrderId>(id),
          versionId: toId<VersionId>(version),
          digest: form.text(`digest-${id}`),
          total: form.text(`total-${id}`),
          decisionId: toId<DecisionId>(isUuid(decision) ? decision : fresh()),
          photoIds: photos.map((photo) => toId<PhotoId>(photo)),
        },
      ];
    });
}

/**
 * The new total and the buttons to send it, also after a refusal that a different answer can mend. What can’t be
 * answered any more comes back as the vehicle as it is now, with what was typed.
 */
async function showPreview(
  request: Request,
  reply: FastifyReply,
  options: PageOptions,
  { link, id, form, typed, problem }: Sent & { readonly problem: Problem | null },
): Promise<FastifyReply> {
  const { services } = options;
  if (typed.versionId === null)
    return showVehicle(request, reply, options, { link, id, typed, problem: noVersion });
  const preview = await previewDecision(services, link.actor, {
    workOrderId: id,
    versionId: typed.versionId,
    digest: typed.digest,
    answers: givenAnswers(typed),
  });
  if (!preview.ok) return showVehicle(request, reply, options, { link, id, typed, problem: preview.problem });
  const frame = await frameOf(request, options, link);
  const page = {
    frame,
    view: unwrap(viewOf(frame, id)),
    preview: preview.value,
    decisionId: decisionIdIn(form, services.newId),
    typed: typed.answers,
    photoIds: typed.photoIds,
    problem,
  };
  return sendPage(reply, linkPreviewView(page), problem?.code);
}

interface ShownVehicle {
  readonly link: ApprovalLink;
  readonly id: WorkOrderId;
  readonly typed?: TypedAnswers;
  readonly problem?: Problem;
  readonly numbers?: NumbersTyped;
}

async function showVehicle(
  request: Request,
  reply: FastifyReply,
  options: PageOptions,
  { link, id, typed, problem, numbers = noNumbersTyped }: ShownVehicle,
): Promise<FastifyReply> {
  const refused = problem ?? numbers.problem;
  if (refused?.code === 'not_allowed' || refused?.code === 'not_signed_in') throw new ProblemError(refused);
  const frame = await frameOf(request, options, link);
  const view = unwrap(viewOf(frame, id));
  const messageId = options.services.newId();
  const page = { frame, view, problem: problem ?? null, typed: typed?.answers ?? [], numbers, messageId };
  return sendPage(reply, vehicleView(page), refused?.code);
}

function viewOf({ visit }: LinkFrame, id: WorkOrderId): Result<LinkFrame['visit']['workOrders'][number]> {
  const view = visit.workOrders.find((each) => each.id === id);
  if (view !== undefined) return { ok: true, value: view };
  return { ok: false, problem: { code: 'not_found', detail: 'This link does not open that work order.' } };
}
