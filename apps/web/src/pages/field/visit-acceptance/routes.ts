import {
  isUuid,
  type Problem,
  type Result,
  toId,
  type VisitId,
  type VisitSignatureId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type AcceptedVisit,
  acceptVisit,
  giveCopy,
  readVisitSignature,
  type ShownVisit,
  showVisitAcceptance,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { copyLinkView, copyWish, notSpent, typedCopy } from '../acceptance/copy-parts.ts';
import { answerIn, nothingAnswered, type TypedAnswer, typedAnswer } from '../acceptance/typed-answer.ts';
import { signedVisitView } from './signed-view.ts';
import { visitAcceptanceView } from './view.ts';

interface ById {
  Params: { id: string };
}

/** One signature over several vehicles of a visit. */
export const visitAcceptancePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  const read = async (request: FastifyRequest<ById>) =>
    unwrap(await showVisitAcceptance(services, actorOf(request), pathId<VisitId>(request.params.id)));

  app.get<ById>('/field/visits/:id/acceptance', async (request, reply) => {
    const visit = await read(request);
    const typed = { ...nothingAnswered, id: services.newId() };
    const chosen = visit.vehicles.map(({ workOrder }) => workOrder.id);
    return show(request, reply, options, { visit, typed, chosen, problem: null });
  });

  app.post<ById>('/field/visits/:id/acceptance', async (request, reply) => {
    const values = formOf(request);
    const typed = typedAnswer(values, services.newId);
    const accepted = await accept(request, options, values, typed);
    if (accepted.ok)
      return reply.redirect(`/field/visits/${pathId(request.params.id)}/signatures/${typed.id}`, 303);
    const visit = await read(request);
    const chosen = values.all('work_orders');
    const same = visit.vehicles.every(
      ({ workOrder, digest }) => values.text(`digest-${workOrder.id}`) === digest,
    );
    const kept = same ? typed : { ...typed, strokes: '', confirmed: false };
    return show(request, reply, options, { visit, typed: kept, chosen, problem: accepted.problem });
  });

  app.get<SignatureAddress>('/field/visits/:id/signatures/:signatureId', async (request, reply) => {
    const which = signatureIn(request.params);
    const signed = unwrap(await readVisitSignature(services, actorOf(request), which));
    const { email, phone } = signed.contact;
    const typed = { id: services.newId(), channel: email === '' ? '' : 'mail', email, phone };
    const frame = await frameOf(request, reply, options);
    return sendPage(
      reply,
      signedVisitView({ frame, signed, path: pathOf(which), copy: { typed, problem: null } }),
    );
  });

  app.post<SignatureAddress>('/field/visits/:id/signatures/:signatureId/copy', async (request, reply) => {
    const actor = actorOf(request);
    const which = signatureIn(request.params);
    const typed = typedCopy(formOf(request), services.newId);
    const wish = copyWish(typed);
    const given = wish.ok ? await giveCopy(services, actor, { ...which, copy: wish.value }) : wish;
    const path = pathOf(which);
    if (given.ok && given.value.channel !== 'link') return reply.redirect(path, 303);
    const frame = await frameOf(request, reply, options);
    if (given.ok)
      return sendPage(
        reply,
        copyLinkView(frame, given.value, { label: 'Back to what was signed', href: path }),
      );
    const { problem } = given;
    const copy = { typed: notSpent(typed, problem, services.newId), problem };
    const signed = unwrap(await readVisitSignature(services, actor, which));
    return sendPage(reply, signedVisitView({ frame, signed, path, copy }), problem.code);
  });
};

interface SignatureAddress {
  Params: { id: string; signatureId: string };
}

interface Which {
  readonly visitId: VisitId;
  readonly signatureId: VisitSignatureId;
}

function signatureIn({ id, signatureId }: SignatureAddress['Params']): Which {
  return { visitId: pathId<VisitId>(id), signatureId: pathId<VisitSignatureId>(signatureId) };
}

function pathOf({ visitId, signatureId }: Which): string {
  return `/field/visits/${visitId}/signatures/${signatureId}`;
}

async function accept(
  request: FastifyRequest<ById>,
  { services }: PageOptions,
  values: FormValues,
  { id }: TypedAnswer,
): Promise<Result<AcceptedVisit>> {
  const answer = answerIn(values, request.headers['user-agent'] ?? '');
  if (!answer.ok) return answer;
  return acceptVisit(services, actorOf(request), {
    ...answer.value,
    id: toId<VisitSignatureId>(id),
    visitId: pathId<VisitId>(request.params.id),
    workOrders: values
      .all('work_orders')
      .filter(isUuid)
      .map((workOrderId) => ({
        workOrderId: toId<WorkOrderId>(workOrderId),
        shownDigest: values.text(`digest-${workOrderId}`),
      })),
  });
}

async function show(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  page: {
    readonly visit: ShownVisit;
    readonly typed: TypedAnswer;
    readonly chosen: readonly string[];
    readonly problem: Problem | null;
  },
): Promise<FastifyReply> {
  const { signature, sending } = options.assets.urls;
  const frame = {
    ...(await frameOf(request, reply, options)),
    signatureScript: signature,
    sendingScript: sending,
  };
  return sendPage(reply, visitAcceptanceView({ ...page, frame }), page.problem?.code);
}
