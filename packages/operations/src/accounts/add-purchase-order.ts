import { findAccount, findPurchaseOrder, insertPurchaseOrder, lockPurchaseOrder } from '@grainwright/db';
import {
  type AccountId,
  ok,
  type PurchaseOrderId,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readOptionalWords, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';

export interface AddPurchaseOrderInput extends DatedInput {
  readonly id: PurchaseOrderId;
  readonly accountId: AccountId;
  /** As work orders carry it. */
  readonly number: string;
  /** What all invoices with this number may come to, with tax; null: no cap. */
  readonly cap: string | null;
  readonly note: string;
}

/**
 * Files a purchase order of an account. Its cap holds over all invoices with its number, those issued before among them;
 * credits give room back. Refuses with `duplicate` a number that is on file.
 */
export function addPurchaseOrder(
  services: Services,
  actor: Actor,
  input: AddPurchaseOrderInput,
): Promise<Result<{ id: PurchaseOrderId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, accountId } = input;
    const read = everyResult({
      number: readWords(input.number, 'number', 'the purchase order’s number', 40),
      capMinor: readCap(input.cap, scope.business.currency),
      valid: readPeriod(input),
      note: readOptionalWords(input.note, 'note', 'the note', 500),
    });
    if (!read.ok) return read;
    const { valid, ...rest } = read.value;
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    const order = { id, accountId, ...rest, validFrom: valid.from, validTo: valid.to };
    if (!(await insertPurchaseOrder(tx, order))) {
      const there = await lockPurchaseOrder(tx, id);
      if (there !== null && sameContent(there, order)) return ok({ id });
      if ((await findPurchaseOrder(tx, accountId, order.number)) !== null && there === null)
        return refuse(
          'duplicate',
          `Purchase order ${order.number} is on file already. Change its cap or its last day there.`,
          'number',
        );
      return refuse(
        'id_reused',
        'This id stands for another purchase order, or it was changed since. Send a new one.',
        'id',
      );
    }
    await record(
      scope,
      'purchase_order_added',
      { kind: 'account', id: accountId },
      { purchase_order: id, number: order.number, cap_minor: order.capMinor?.toString() ?? null },
    );
    return ok({ id });
  });
}

export function readCap(text: string | null, currency: string): Result<bigint | null> {
  if (text === null || text.trim() === '') return ok(null);
  const cap = parseMoney(text, { currency, field: 'cap' });
  return cap.ok && cap.value === 0n
    ? refuse('invalid_money', 'Write a cap above zero, or leave it empty for none.', 'cap')
    : cap;
}
