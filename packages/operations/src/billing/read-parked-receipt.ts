import { findParkedReceipt } from '@grainwright/db';
import { ok, type ReceiptId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type ParkedReceiptView, parkedReceiptView } from './parked-receipt-view.ts';

export function readParkedReceipt(
  services: Services,
  actor: Actor,
  id: ReceiptId,
): Promise<Result<ParkedReceiptView>> {
  return performAsStaff(services, actor, 'see_payments', async ({ tx }) => {
    const found = await findParkedReceipt(tx, id);
    return found === null ? refuse('not_found', 'There is no such receipt.') : ok(parkedReceiptView(found));
  });
}
