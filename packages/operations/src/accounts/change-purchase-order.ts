import { lockPurchaseOrder, updatePurchaseOrder } from '@grainwright/db';
import { type AccountId, ok, type PurchaseOrderId, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { readCap } from './add-purchase-order.ts';

export interface ChangePurchaseOrderInput {
  readonly id: PurchaseOrderId;
  readonly accountId: AccountId;
  /** As the account raised or lowered it; null: no cap any more. */
  readonly cap: string | null;
  readonly validTo: string | null;
  readonly note: string;
}

/** Changes what an account changed about its purchase order: the cap, the last day. The number stays what it is. */
export function changePurchaseOrder(
  services: Services,
  actor: Actor,
  input: ChangePurchaseOrderInput,
): Promise<Result<{ id: PurchaseOrderId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, accountId } = input;
    const read = everyResult({
      capMinor: readCap(input.cap, scope.business.currency),
      validTo: input.validTo === null ? ok(null) : parseDay(input.validTo.trim(), 'valid_to'),
      note: readOptionalWords(input.note, 'note', 'the note', 500),
    });
    if (!read.ok) return read;
    const before = await lockPurchaseOrder(tx, id);
    if (before === null || before.accountId !== accountId)
      return refuse('not_found', 'There is no such purchase order.');
    const { capMinor, validTo, note } = read.value;
    if (validTo !== null && validTo < before.validFrom)
      return refuse(
        'dates_out_of_order',
        `It starts on ${before.validFrom} and can’t end before. Check the date.`,
        'valid_to',
      );
    if (before.capMinor === capMinor && before.validTo === validTo && before.note === note) return ok({ id });
    await updatePurchaseOrder(tx, id, { capMinor, validTo, note });
    await record(
      scope,
      'purchase_order_changed',
      { kind: 'account', id: accountId },
      {
        purchase_order: id,
        number: before.number,
        cap_minor: { from: before.capMinor?.toString() ?? null, to: capMinor?.toString() ?? null },
        valid_to: { from: before.validTo, to: validTo },
      },
    );
    return ok({ id });
  });
}
