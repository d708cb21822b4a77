import { findAccount, findNamedWorkOrder, findVisit, setVoidFacts, type WorkOrderRow } from '@grainwright/db';
import {
  allows,
  displayMoney,
  ok,
  type Result,
  refuse,
  type VoidReason,
  voidReasons,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { thenInvoiceAtOnce } from '../billing/issue-at-once.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';

export interface VoidWorkOrderInput {
  readonly workOrderId: WorkOrderId;
  readonly reason: VoidReason;
  readonly note: string;
  /** Of which work order it is the duplicate; null for every other reason. */
  readonly duplicateOfId: WorkOrderId | null;
}

export interface VoidedWorkOrder {
  readonly state: WorkOrderState;
  /** What the account pays for the visit; null where its terms have no such fee, or it is void for another reason. */
  readonly noShowFeeMinor: bigint | null;
  readonly currency: string;
}

/**
 * Voids a work order, which keeps its number. A vehicle that is not there costs the account the fee of its terms, and
 * whoever came for it may say so of their own visit. Voiding it again for the same reason changes nothing. Refuses
 * with `not_allowed`, `wrong_state`, `invalid_input` or `not_found`.
 */
export async function voidWorkOrder(
  services: Services,
  actor: Actor,
  input: VoidWorkOrderInput,
): Promise<Result<VoidedWorkOrder>> {
  const voided = await voidIt(services, actor, input);
  // It may have been the last that the visit’s invoice waited for.
  return thenInvoiceAtOnce(services, actor, input.workOrderId, voided);
}

function voidIt(
  services: Services,
  actor: Actor,
  input: VoidWorkOrderInput,
): Promise<Result<VoidedWorkOrder>> {
  const permission = input.reason === 'vehicle_not_there' ? 'record_no_show' : 'void_work_order';
  return performAsStaff(services, actor, permission, async (scope) => {
    const note = readOptionalWords(input.note, 'note', 'what there is to say', 500);
    if (!note.ok) return note;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const workOrder = opened.value;
    const { currency } = scope.business;
    if (workOrder.state === 'void' && workOrder.voidReason === input.reason)
      return ok({ state: workOrder.state, noShowFeeMinor: workOrder.noShowFeeMinor, currency });
    if (input.reason === 'vehicle_not_there') {
      const came = await checkNoShow(scope, workOrder);
      if (!came.ok) return came;
    }
    const duplicate = await readDuplicate(scope, input);
    if (!duplicate.ok) return duplicate;
    const fee = input.reason === 'vehicle_not_there' ? await noShowFee(scope, workOrder) : null;
    const words = voidWords(input.reason, duplicate.value?.number ?? null, fee, currency);
    const text = note.value === '' ? words : `${words} ${note.value}`;
    const voided = await advance(scope, workOrder, { type: 'voided' }, {}, text);
    if (!voided.ok) return voided;
    const facts = {
      voidReason: input.reason,
      voidNote: note.value,
      duplicateOfId: duplicate.value?.id ?? null,
      noShowFeeMinor: fee,
    };
    await setVoidFacts(scope.tx, workOrder.id, facts);
    await record(
      scope,
      'work_order_void_reason',
      { kind: 'work_order', id: workOrder.id },
      {
        reason: input.reason,
        note: note.value,
        duplicate_of_id: facts.duplicateOfId,
        no_show_fee_minor: fee?.toString() ?? null,
      },
    );
    return ok({ state: voided.value, noShowFeeMinor: fee, currency });
  });
}

/** Nobody finds a vehicle missing that was worked on, nor one of a colleague’s stop, nor before the day. */
async function checkNoShow(scope: Scope, workOrder: WorkOrderRow): Promise<Result<true>> {
  if (['in_work', 'done'].includes(workOrder.state))
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[workOrder.state]}”: the vehicle was there. Void it for another reason.`,
    );
  const visit = await findVisit(scope.tx, workOrder.visitId);
  if (visit === null) throw new Error('a work order names a visit that is not there');
  if (visit.day > scope.today)
    return refuse('wrong_state', 'The visit is still to come. Say so on its day, at the place.');
  if (visit.technicianId !== scope.actor.personId && !allows(scope.member.role, 'void_work_order'))
    return refuse(
      'not_allowed',
      'This is another technician’s visit. Whoever was there says so, or the office.',
    );
  return ok(true);
}

async function readDuplicate(
  scope: Scope,
  { reason, duplicateOfId, workOrderId }: VoidWorkOrderInput,
): Promise<Result<{ readonly id: WorkOrderId; readonly number: bigint } | null>> {
  if (reason !== 'duplicate')
    return duplicateOfId === null
      ? ok(null)
      : refuse('invalid_input', 'Only a duplicate names another work order.', 'duplicate_of_id');
  if (duplicateOfId === null)
    return refuse('invalid_input', 'Say which work order it is the duplicate of.', 'duplicate_of_id');
  const original = await findNamedWorkOrder(scope.tx, duplicateOfId);
  if (original === null) return refuse('not_found', 'There is no such work order.', 'duplicate_of_id');
  if (original.id === workOrderId)
    return refuse('invalid_input', 'A work order is no duplicate of itself.', 'duplicate_of_id');
  if (original.state === 'void')
    return refuse(
      'invalid_input',
      `WO-${original.number} is void itself. Name the one that stays.`,
      'duplicate_of_id',
    );
  return ok(original);
}

async function noShowFee(scope: Scope, workOrder: WorkOrderRow): Promise<bigint | null> {
  const account = await findAccount(scope.tx, workOrder.accountId);
  return account?.noShowFeeMinor ?? null;
}

function voidWords(
  reason: VoidReason,
  duplicateOf: bigint | null,
  feeMinor: bigint | null,
  currency: string,
): string {
  const words = voidReasons[reason];
  const said = `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
  if (duplicateOf !== null) return `${said}: WO-${duplicateOf} stays.`;
  return feeMinor === null ? `${said}.` : `${said}: fee ${displayMoney(feeMinor, currency)}.`;
}
