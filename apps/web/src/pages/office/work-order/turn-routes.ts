import { type Result, refuse, type VoidReason, voidReasons, type WorkOrderId } from '@grainwright/domain';
import {
  type Actor,
  holdWorkOrder,
  liftHold,
  listWorkOrders,
  releaseAcceptance,
  type Services,
  voidWorkOrder,
} from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { showOfficeWorkOrder } from './routes.ts';
import type { Turn } from './turn-forms.ts';

interface ById {
  Params: { id: string };
}

type TakeTurn = (
  services: Services,
  actor: Actor,
  id: WorkOrderId,
  form: FormValues,
) => Promise<Result<unknown>>;

const turns: Readonly<Record<Turn, TakeTurn>> = {
  hold: (services, actor, workOrderId, form) =>
    holdWorkOrder(services, actor, { workOrderId, reason: form.text('reason') }),
  'hold-lift': (services, actor, workOrderId, form) =>
    liftHold(services, actor, { workOrderId, reason: form.text('reason') }),
  'acceptance-release': (services, actor, workOrderId, form) =>
    releaseAcceptance(services, actor, { workOrderId, reason: form.text('reason') }),
  void: voidIt,
};

const isTurn = (key: string): key is Turn => Object.hasOwn(turns, key);

/** Hold, lift, release and void from the desk. */
export const officeTurnPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  for (const turn of Object.keys(turns).filter(isTurn))
    app.post<ById>(`/office/work-orders/:id/${turn}`, async (request, reply) => {
      const id = pathId<WorkOrderId>(request.params.id);
      const form = formOf(request);
      const taken = await turns[turn](options.services, actorOf(request), id, form);
      if (taken.ok) return reply.redirect(`/office/work-orders/${id}`, 303);
      const typed = {
        turn,
        reason: form.text('reason'),
        note: form.text('note'),
        duplicateOf: form.text('duplicate_of'),
        problem: taken.problem,
      };
      return showOfficeWorkOrder(request, reply, options, { id, turn: typed });
    });
};

async function voidIt(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
  form: FormValues,
): Promise<Result<unknown>> {
  const reason = form.text('reason');
  if (!isReason(reason)) return refuse('invalid_input', 'Choose why it is void.', 'reason');
  const number = form.text('duplicate_of').trim();
  const named = reason === 'duplicate' && number !== '' ? await idOfNumber(services, actor, number) : null;
  if (named !== null && !named.ok) return named;
  const input = { workOrderId, reason, note: form.text('note'), duplicateOfId: named?.value ?? null };
  const voided = await voidWorkOrder(services, actor, input);
  if (voided.ok || voided.problem.field !== 'duplicate_of_id') return voided;
  return refuse('invalid_input', voided.problem.detail, 'duplicate_of');
}

function isReason(text: string): text is VoidReason {
  return Object.hasOwn(voidReasons, text);
}

/** By its number, as people say it. */
async function idOfNumber(services: Services, actor: Actor, text: string): Promise<Result<WorkOrderId>> {
  const number = /^(?:WO-)?(\d{1,15})$/i.exec(text)?.[1];
  if (number === undefined)
    return refuse('invalid_input', 'Write the number of a work order, like WO-1001.', 'duplicate_of');
  const list = await listWorkOrders(services, actor, { text: `WO-${number}` });
  if (!list.ok) return list;
  const row = list.value.rows.find((each) => each.number === BigInt(number));
  if (row === undefined)
    return refuse('invalid_input', `There is no WO-${number}. Check the number.`, 'duplicate_of');
  return { ok: true, value: row.id };
}
