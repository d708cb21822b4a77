import { insertAcceptanceRelease, listMissingSignatures } from '@grainwright/db';
import {
  missingSignatureReasons,
  ok,
  type Result,
  readyForAcceptance,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { acceptedThenInvoiced } from '../billing/issue-at-once.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sentence } from '../sentence.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { markAccepted } from '../work-orders/mark-accepted.ts';

export interface ReleaseAcceptanceInput {
  readonly workOrderId: WorkOrderId;
  readonly reason: string;
}

/**
 * Lets finished work go without a signature, once it is on record that nobody signed: the newest record is the one
 * released. Released again it answers with where the work stands. Refuses with `signature_missing` where nothing is on
 * record, `wrong_state`, `invalid_input` or `not_found`.
 */
export async function releaseAcceptance(
  services: Services,
  actor: Actor,
  input: ReleaseAcceptanceInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  const released = await release(services, actor, input);
  return acceptedThenInvoiced(services, actor, input.workOrderId, released);
}

function release(
  services: Services,
  actor: Actor,
  input: ReleaseAcceptanceInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  return performAsStaff(services, actor, 'release_acceptance', async (scope) => {
    const reason = readWords(input.reason, 'reason', 'why it goes without a signature', 500);
    if (!reason.ok) return reason;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { id, state } = opened.value;
    const [missing] = await listMissingSignatures(scope.tx, [id]);
    if (missing !== undefined && missing.releasedAt !== null) return ok({ state });
    if (state !== 'done')
      return refuse(
        'wrong_state',
        `This work order is “${workOrderStates[state]}”. Only finished work that waits for its acceptance is released.`,
      );
    if (missing === undefined)
      return refuse(
        'signature_missing',
        'First put on record why nobody signed, with a witness. Then it can be released.',
      );
    const unsigned = { ...missing, releasedBy: scope.member.name };
    const ready = readyForAcceptance({
      rule: 'vehicle_owner',
      answer: null,
      openContradictions: [],
      unsigned,
    });
    if (!ready.ok) return ready;
    await insertAcceptanceRelease(scope.tx, {
      workOrderId: id,
      missingSignatureId: missing.id,
      reason: reason.value,
      releasedBy: scope.actor.personId,
      releasedAt: scope.now,
    });
    const words = missingSignatureReasons[missing.why];
    const note = `Not signed, ${words}: ${sentence(missing.reason)} Released: ${sentence(reason.value)}`;
    const released = await markAccepted(scope, opened.value, 'released', note);
    if (!released.ok) return released;
    const detail = { missing_signature_id: missing.id, reason: reason.value };
    await record(scope, 'acceptance_released', { kind: 'work_order', id }, detail);
    return ok({ state: released.value });
  });
}
