import { insertWorkOrderStep, setHold, type WorkOrderRow } from '@grainwright/db';
import {
  ok,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';

export interface HoldInput {
  readonly workOrderId: WorkOrderId;
  readonly reason: string;
}

type Held = Result<{ readonly state: WorkOrderState; readonly holdReason: string | null }>;

/**
 * Puts work on hold: it does not start until the hold is lifted, and what has started is still finished. A new reason
 * takes the place of the one before. Refuses with `invalid_input`, `wrong_state` or `not_found`.
 */
export function holdWorkOrder(services: Services, actor: Actor, input: HoldInput): Promise<Held> {
  return performAsStaff(services, actor, 'hold_work_order', async (scope) => {
    const reason = readWords(input.reason, 'reason', 'why it has to wait', 500);
    if (!reason.ok) return reason;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { state, holdReason } = opened.value;
    if (!holdable.includes(state))
      return refuse(
        'wrong_state',
        `This work order is “${workOrderStates[state]}”: there is no start to hold back any more.`,
      );
    if (holdReason === reason.value) return ok({ state, holdReason });
    await write(scope, opened.value, 'held', reason.value, reason.value);
    return ok({ state, holdReason: reason.value });
  });
}

/** Lifts a hold, with a word why if there is one. Without a hold it changes nothing. Refuses with `not_found`. */
export function liftHold(services: Services, actor: Actor, input: HoldInput): Promise<Held> {
  return performAsStaff(services, actor, 'hold_work_order', async (scope) => {
    const reason = readOptionalWords(input.reason, 'reason', 'why it can go on', 500);
    if (!reason.ok) return reason;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { state, holdReason } = opened.value;
    if (holdReason !== null) await write(scope, opened.value, 'hold_lifted', null, reason.value);
    return ok({ state, holdReason: null });
  });
}

const holdable: readonly WorkOrderState[] = ['written_up', 'awaiting_approval', 'approved', 'in_work'];

async function write(
  scope: Scope,
  { id, state, holdReason: before }: WorkOrderRow,
  event: 'held' | 'hold_lifted',
  after: string | null,
  note: string,
): Promise<void> {
  await setHold(scope.tx, id, after);
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: id,
    event,
    toState: state,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note,
  });
  await record(scope, `work_order_${event}`, { kind: 'work_order', id }, { before, after, reason: note });
}
