import { findCautionAcknowledgment, insertCautionAcknowledgment, setLamp } from '@grainwright/db';
import {
  ok,
  type Result,
  readLamp,
  readyToStart,
  refuse,
  transition,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import {
  acknowledgedOf,
  blockedSeam,
  cautionsToShow,
  readCircumstances,
  refuseBlockedSeam,
} from './cautions.ts';
import { checkDayOfWork } from './day-of-work.ts';
import { approvedLines, picturedPurposes, readWork } from './work-lines.ts';

export interface StartWorkInput {
  /** Made by the client: the same start sent again under it answers as the first time. */
  readonly acknowledgmentId: string;
  readonly workOrderId: WorkOrderId;
  /** Codes of the cautions that were read. */
  readonly acknowledge: readonly string[];
  /** What was noticed at the vehicle, which asks for cautions of its own. */
  readonly circumstances: readonly string[];
  /** `on` or `off` as the vehicle came; empty or left out where nobody looked. */
  readonly airbagLamp?: string | undefined;
}

/**
 * Starts approved work on its day or later, once the vehicle was photographed as the account's kind asks for and
 * every caution for its parts, materials and methods was acknowledged. Refuses with `nothing_approved`,
 * `wrong_state`, `photo_missing`, `cautions_open`, `id_reused` or `invalid_input`.
 */
export function startWork(
  services: Services,
  actor: Actor,
  input: StartWorkInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  return performAsStaff(services, actor, 'start_work', (scope) => start(scope, input));
}

async function start(
  scope: Scope,
  input: StartWorkInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  const lamp = readLamp(input.airbagLamp ?? '', 'airbag_lamp');
  if (!lamp.ok) return lamp;
  const noticed = readCircumstances(
    lamp.value === 'on' ? [...input.circumstances, 'airbag_lamp_on'] : input.circumstances,
  );
  if (!noticed.ok) return noticed;
  const opened = await openWorkOrder(scope, input.workOrderId);
  if (!opened.ok) return opened;
  const workOrder = opened.value;
  const earlier = await findCautionAcknowledgment(scope.tx, input.acknowledgmentId);
  if (earlier !== null)
    return earlier.workOrderId === workOrder.id ? ok({ state: workOrder.state }) : reusedId();
  const next = transition(workOrder.state, { type: 'started' });
  if (!next.ok) return next;
  const day = await checkDayOfWork(scope, workOrder.visitId, 'start');
  if (!day.ok) return day;
  const work = await readWork(scope, workOrder.id);
  if (!work.ok) return work;
  const lines = approvedLines(work.value);
  const cautions = cautionsToShow(work.value, noticed.value);
  const acknowledged = acknowledgedOf(cautions, input.acknowledge);
  const ready = readyToStart({
    photoRule: work.value.account.photoRule,
    workOrderPhotos: picturedPurposes(work.value),
    approvedLineCount: lines.length,
    holdReason: workOrder.holdReason,
    cautionsToShow: cautions.map((caution) => caution.code),
    cautionsAcknowledged: acknowledged,
  });
  if (!ready.ok) return ready;
  const seam = await blockedSeam(scope, workOrder.id, lines);
  if (seam !== null) return refuseBlockedSeam(seam);
  const started = await advance(scope, workOrder, { type: 'started' });
  if (!started.ok) return started;
  const seen = lamp.value ?? (noticed.value.includes('airbag_lamp_on') ? 'on' : null);
  if (seen !== null) await setLamp(scope.tx, workOrder.id, { airbagLampBefore: seen });
  const row = {
    id: input.acknowledgmentId,
    workOrderId: workOrder.id,
    codes: [...acknowledged],
    acknowledgedBy: scope.actor.personId,
    acknowledgedAt: scope.now,
  };
  if (!(await insertCautionAcknowledgment(scope.tx, row))) return reusedId();
  const subject = { kind: 'work_order', id: workOrder.id };
  await record(scope, 'cautions_acknowledged', subject, { codes: acknowledged, noticed: noticed.value });
  return ok({ state: started.value });
}

function reusedId() {
  return refuse('id_reused', 'This id was already used to start other work. Send it under a new id.', 'id');
}
