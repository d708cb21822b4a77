import { insertWorkOrderStep, lockWorkOrder, setWorkOrderState, type WorkOrderRow } from '@grainwright/db';
import {
  ok,
  type Result,
  refuse,
  transition,
  type WorkOrderEvent,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Recorded, type RecordScope, record } from './perform.ts';

/** The work order, locked for a change; `not_found` when it is not there or not the actor's to see. */
export async function openWorkOrder(
  scope: Pick<RecordScope, 'tx'>,
  id: WorkOrderId,
): Promise<Result<WorkOrderRow>> {
  const row = await lockWorkOrder(scope.tx, id);
  return row === null ? refuse('not_found', 'There is no such work order.') : ok(row);
}

/** Whoever takes a step: somebody of ours, or the vehicle's owner by a link. */
export interface StepScope extends Omit<RecordScope, 'actor'> {
  readonly actor: Recorded;
}

/**
 * Takes a locked work order one step along its path: the rule decides where to, and the step, the new state and
 * the audit record are written together.
 */
export async function advance(
  scope: StepScope,
  workOrder: Pick<WorkOrderRow, 'id' | 'state'>,
  event: WorkOrderEvent,
  change: Partial<Pick<WorkOrderRow, 'decisionId' | 'currentVersionId'>> = {},
  note = '',
): Promise<Result<WorkOrderState>> {
  const next = transition(workOrder.state, event);
  if (!next.ok) return next;
  await setWorkOrderState(scope.tx, workOrder.id, { ...change, state: next.value });
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: workOrder.id,
    event: event.type,
    toState: next.value,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note,
  });
  await record(
    scope,
    `work_order_${event.type}`,
    { kind: 'work_order', id: workOrder.id },
    { from: workOrder.state, to: next.value },
  );
  return next;
}
