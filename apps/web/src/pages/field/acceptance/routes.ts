import {
  type AcceptanceId,
  acceptanceOutcomes,
  isUuid,
  type Result,
  refuse,
  type SignatureMark,
  signerRoles,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type AcceptedWork,
  type AcceptWorkInput,
  acceptWork,
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
import { signedView } from './signed-view.ts';
import { readStrokes } from './strokes.ts';
import { type AcceptanceForm, type AcceptancePage, acceptanceView } from './view.ts';

interface AcceptanceAddress {
  Params: { id: string };
}

export const acceptancePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<AcceptanceAddress>('/field/work-orders/:id/acceptance', async (request, reply) => {
    const acceptance = unwrap(await showAcceptance(services, actorOf(request), pathId(request.params.id)));
    const form = { ...empty, acceptanceId: services.newId() };
    return send(request, reply, options, { acceptance, form, problem: null });
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
    const typed = formFrom(values, services.newId);
    // What was signed for something else is not carried over to this.
    const same = values.text('shown_digest') === acceptance.digest;
    const form = same ? typed : { ...typed, strokes: '', confirmed: false };
    return send(request, reply, options, { acceptance, form, problem });
  });

  app.get<{ Params: { id: string; acceptanceId: string } }>(
    '/field/work-orders/:id/acceptance/:acceptanceId',
    async (request, reply) => {
      const { id, acceptanceId } = request.params;
      const which = {
        workOrderId: pathId<WorkOrderId>(id),
        acceptanceId: pathId<AcceptanceId>(acceptanceId),
      };
      const signed = unwrap(await readAcceptance(services, actorOf(request), which));
      return sendPage(reply, signedView(await frameOf(request, reply, options), signed));
    },
  );
};

const empty: Omit<AcceptanceForm, 'acceptanceId'> = {
  outcome: '',
  remark: '',
  signerName: '',
  signerRole: '',
  strokes: '',
  confirmed: false,
  overrideReason: '',
};

function formFrom(values: FormValues, newId: () => string): AcceptanceForm {
  return {
    acceptanceId: isUuid(values.text('id')) ? values.text('id') : newId(),
    outcome: values.text('outcome'),
    remark: values.text('remark'),
    signerName: values.text('signer_name'),
    signerRole: values.text('signer_role'),
    strokes: values.text('signature'),
    confirmed: values.checked('confirmed'),
    overrideReason: values.text('override_reason'),
  };
}

function inputOf(values: FormValues, workOrderId: WorkOrderId, device: string): Result<AcceptWorkInput> {
  const id = values.text('id');
  if (!isUuid(id))
    return refuse('invalid_input', 'This form is not whole. Reload the page and answer there.');
  const outcome = values.text('outcome');
  if (!isKey(acceptanceOutcomes, outcome))
    return refuse('invalid_input', 'Choose how you find the repair.', 'outcome');
  const signerRole = values.text('signer_role');
  if (!isKey(signerRoles, signerRole)) return refuse('invalid_input', 'Choose who you are.', 'signer_role');
  const mark = markOf(values);
  if (!mark.ok) return mark;
  return {
    ok: true,
    value: {
      acceptanceId: toId<AcceptanceId>(id),
      workOrderId,
      shownDigest: values.text('shown_digest'),
      outcome,
      remark: values.text('remark'),
      signerName: values.text('signer_name'),
      signerRole,
      mark: mark.value,
      overrideReason: values.text('override_reason'),
      device,
    },
  };
}

/** Drawn where something was drawn, else the typed name and its confirmation. */
function markOf(values: FormValues): Result<SignatureMark> {
  const drawn = values.text('signature');
  if (drawn === '')
    return {
      ok: true,
      value: { kind: 'typed', name: values.text('signer_name'), confirmed: values.checked('confirmed') },
    };
  const strokes = readStrokes(drawn);
  return strokes === null
    ? refuse('invalid_input', 'That drawing can’t be read. Clear it and sign again.', 'signature')
    : { ok: true, value: { kind: 'drawn', strokes } };
}

function isKey<Key extends string>(words: Readonly<Record<Key, string>>, text: string): text is Key {
  return Object.hasOwn(words, text);
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
