import { type AcceptanceId, isUuid, type Result, refuse, toId, type WorkOrderId } from '@grainwright/domain';
import {
  type AcceptedWork,
  type AcceptWorkInput,
  acceptWork,
  giveCopy,
  readAcceptance,
  showAcceptance,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { copyLinkView, copyWish, notSpent, typedCopy } from './copy-parts.ts';
import { signedView } from './signed-view.ts';
import { answerIn, nothingAnswered, typedAnswer } from './typed-answer.ts';
import { type AcceptancePage, acceptanceView } from './view.ts';

interface AcceptanceAddress {
  Params: { id: string };
}

export const acceptancePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<AcceptanceAddress>('/field/work-orders/:id/acceptance', async (request, reply) => {
    const acceptance = unwrap(await showAcceptance(services, actorOf(request), pathId(request.params.id)));
    const typed = { ...nothingAnswered, id: services.newId() };
    return send(request, reply, options, { acceptance, typed, problem: null });
  });

  app.post<AcceptanceAddress>('/field/work-orders/:id/acceptance', async (request, reply) => {
    const actor = actorOf(request);
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const values = formOf(request);
    const input = inputOf(values, workOrderId, request.headers['user-agent'] ?? '');
    const accepted: Result<AcceptedWork> = input.ok ? await acceptWork(services, actor, input.value) : input;
    if (accepted.ok)
      return reply.redirect(
        `/field/work-orders/${workOrderId}/acceptance/${accepted.value.acceptanceId}`,
        303,
      );
    const { problem } = accepted;
    const acceptance = unwrap(await showAcceptance(services, actor, workOrderId));
    const typed = typedAnswer(values, services.newId);
    // What was signed for something else is not carried over to this.
    const same = values.text('shown_digest') === acceptance.digest;
    const kept = same ? typed : { ...typed, strokes: '', confirmed: false };
    return send(request, reply, options, { acceptance, typed: kept, problem });
  });

  app.get<SignedAddress>('/field/work-orders/:id/acceptance/:acceptanceId', async (request, reply) => {
    const which = signedIn(request.params);
    const signed = unwrap(await readAcceptance(services, actorOf(request), which));
    const { email, phone } = signed.contact;
    const typed = { id: services.newId(), channel: email === '' ? '' : 'mail', email, phone };
    const frame = await frameOf(request, reply, options);
    return sendPage(reply, signedView({ frame, signed, copy: { typed, problem: null } }));
  });

  app.post<SignedAddress>('/field/work-orders/:id/acceptance/:acceptanceId/copy', async (request, reply) => {
    const actor = actorOf(request);
    const which = signedIn(request.params);
    const typed = typedCopy(formOf(request), services.newId);
    const wish = copyWish(typed);
    const given = wish.ok ? await giveCopy(services, actor, { ...which, copy: wish.value }) : wish;
    const path = `/field/work-orders/${which.workOrderId}/acceptance/${which.acceptanceId}`;
    if (given.ok && given.value.channel !== 'link') return reply.redirect(path, 303);
    const frame = await frameOf(request, reply, options);
    if (given.ok)
      return sendPage(
        reply,
        copyLinkView(frame, given.value, { label: 'Back to what was signed', href: path }),
      );
    const signed = unwrap(await readAcceptance(services, actor, which));
    const { problem } = given;
    return sendPage(
      reply,
      signedView({ frame, signed, copy: { typed: notSpent(typed, problem, services.newId), problem } }),
      problem.code,
    );
  });
};

interface SignedAddress {
  Params: { id: string; acceptanceId: string };
}

function signedIn({ id, acceptanceId }: SignedAddress['Params']) {
  return { workOrderId: pathId<WorkOrderId>(id), acceptanceId: pathId<AcceptanceId>(acceptanceId) };
}

function inputOf(values: FormValues, workOrderId: WorkOrderId, device: string): Result<AcceptWorkInput> {
  const id = values.text('id');
  if (!isUuid(id))
    return refuse('invalid_input', 'This form is not whole. Reload the page and answer there.');
  const answer = answerIn(values, device);
  if (!answer.ok) return answer;
  const shownDigest = values.text('shown_digest');
  return {
    ok: true,
    value: { acceptanceId: toId<AcceptanceId>(id), workOrderId, shownDigest, ...answer.value },
  };
}

async function send(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  page: Omit<AcceptancePage, 'frame'>,
): Promise<FastifyReply> {
  const { signature, sending } = options.assets.urls;
  const frame = {
    ...(await frameOf(request, reply, options)),
    signatureScript: signature,
    sendingScript: sending,
  };
  return sendPage(reply, acceptanceView({ ...page, frame }), page.problem?.code);
}
