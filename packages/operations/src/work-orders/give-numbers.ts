import { findWorkOrder, updateWriteUp } from '@grainwright/db';
import {
  type GivenNumbers,
  ok,
  type Result,
  refuse,
  takesNumbers,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsContact, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { readNumbers } from './read-numbers.ts';
import type { WorkOrderView } from './work-order-view.ts';

/** Texts as typed; empty text says nothing of that number. */
export interface GiveNumbersInput extends GivenNumbers {
  readonly workOrderId: WorkOrderId;
}

/**
 * A contact gives the numbers that their account still owes a work order: its own, RO and PO. A number that is there
 * stays; the same one again changes nothing. Refuses with `wrong_state`, `duplicate`, `invalid_input` or `not_found`.
 */
export function giveNumbers(
  services: Services,
  actor: Actor,
  input: GiveNumbersInput,
): Promise<Result<WorkOrderView>> {
  return performAsContact(services, actor, 'give_numbers', async (scope) => {
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const { id, state } = opened.value;
    if (!takesNumbers(state))
      return refuse(
        'wrong_state',
        `This work order is ${workOrderStates[state]}, so its numbers don’t change any more. Ask ${scope.business.name}.`,
      );
    const found = await findWorkOrder(scope.tx, id);
    if (found === null) throw new Error('a locked work order is gone');
    const read = readNumbers(input, { ...found.account, ownNumberRequired: false });
    if (!read.ok) return read;
    const given = newlyGiven(opened.value, read.value, scope.business.name);
    if (!given.ok) return given;
    if (Object.keys(given.value).length > 0) {
      await updateWriteUp(scope.tx, id, given.value);
      await record(scope, 'numbers_given', { kind: 'work_order', id }, { after: given.value });
    }
    return loadWorkOrder(scope, id);
  });
}

const fields = { ownNumber: 'own_number', roNumber: 'ro_number', poNumber: 'po_number' } as const;

/** The numbers that were missing until now. */
function newlyGiven(
  known: GivenNumbers,
  typed: GivenNumbers,
  businessName: string,
): Result<Partial<GivenNumbers>> {
  const given: { -readonly [Name in keyof GivenNumbers]?: string } = {};
  for (const name of ['ownNumber', 'roNumber', 'poNumber'] as const) {
    if (typed[name] === '' || typed[name] === known[name]) continue;
    if (known[name] !== '')
      return refuse(
        'duplicate',
        `This number is there already: ${known[name]}. Ask ${businessName} if it is wrong.`,
        fields[name],
      );
    given[name] = typed[name];
  }
  return ok(given);
}
