import {
  findMissingSignature,
  insertMissingSignature,
  insertWorkOrderStep,
  type MissingSignatureRow,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  checkWitness,
  type MissingSignatureId,
  type MissingSignatureReason,
  missingSignatureReasons,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
  witnessWords,
  workOrderStates,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import { sentence } from '../sentence.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';

export interface RecordNoAcceptanceInput {
  /** Made by the client: the same record sent again under it counts once. */
  readonly id: MissingSignatureId;
  readonly workOrderId: WorkOrderId;
  readonly why: MissingSignatureReason;
  readonly reason: string;
  /** The full name of a second person who saw it; may be empty where nobody was there. */
  readonly witness: string;
}

/**
 * Puts on record that nobody signed for finished work: refused, or nobody there, with a reason and a witness where there was one. The work
 * stays done and is not accepted; somebody may still sign, or a manager lets it go. Refuses with `wrong_state`,
 * `already_accepted`, `invalid_input`, `id_reused` or `not_found`.
 */
export function recordNoAcceptance(
  services: Services,
  actor: Actor,
  input: RecordNoAcceptanceInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  return performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const read = everyResult({
      reason: readWords(input.reason, 'reason', 'why nobody signed', 500),
      witness: checkWitness(input.witness, { why: input.why, recordedBy: scope.member.name }),
    });
    if (!read.ok) return read;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { id, workOrderId, why } = input;
    const said = { workOrderId, why, ...read.value };
    const earlier = await findMissingSignature(scope.tx, id);
    if (earlier !== null) return sameContent(earlier, said) ? ok({ state: opened.value.state }) : reusedId();
    const open = checkOpen(opened.value);
    if (!open.ok) return open;
    const row = { id, ...said, recordedBy: scope.actor.personId, recordedAt: scope.now };
    return (await write(scope, opened.value, row)) ? ok({ state: opened.value.state }) : reusedId();
  });
}

function checkOpen({ state }: WorkOrderRow): Result<true> {
  if (['accepted', 'invoiced', 'paid', 'written_off'].includes(state))
    return refuse('already_accepted', 'This work is accepted already. What was signed stays as it is.');
  if (state === 'done') return ok(true);
  return refuse(
    'wrong_state',
    `This work order is “${workOrderStates[state]}”. Finish the work first, then ask for the signature.`,
  );
}

async function write(
  scope: Scope,
  workOrder: WorkOrderRow,
  row: Omit<MissingSignatureRow, 'tenantId'>,
): Promise<boolean> {
  if (!(await insertMissingSignature(scope.tx, row))) return false;
  const words = missingSignatureReasons[row.why];
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: workOrder.id,
    event: 'not_signed',
    toState: workOrder.state,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note: `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${sentence(row.reason)} ${witnessWords(row.witness)}.`,
  });
  const { id, why, reason, witness } = row;
  const detail = { work_order_id: workOrder.id, why, reason, witness };
  await record(scope, 'signature_missing', { kind: 'missing_signature', id }, detail);
  return true;
}

function reusedId() {
  return refuse('id_reused', 'This id was already used for another record. Send it under a new id.', 'id');
}
