import { findParkedReceipt, listParkedReceiptRows, sumParked } from '@grainwright/db';
import { ok, type ReceiptId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type ParkedReceiptView, parkedReceiptView } from './parked-receipt-view.ts';

export interface ParkedReceiptList {
  readonly rows: readonly ParkedReceiptView[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: ReceiptId | null;
  /** What waits for its payer, in all. */
  readonly parkedMinor: bigint;
  readonly currency: string;
}

const rowsOfAPage = 100;

/** Receipts that wait for their payer, or those that were assigned, oldest first. */
export function listParkedReceipts(
  services: Services,
  actor: Actor,
  input: { readonly assigned: boolean; readonly past: ReceiptId | null },
): Promise<Result<ParkedReceiptList>> {
  return performAsStaff(services, actor, 'see_payments', async ({ tx, business }) => {
    const past = input.past === null ? null : await findParkedReceipt(tx, input.past);
    if (input.past !== null && past === null)
      return refuse('not_found', 'There is no such receipt to go on from.', 'past');
    const found = await listParkedReceiptRows(tx, { assigned: input.assigned, past, limit: rowsOfAPage + 1 });
    const rows = found.slice(0, rowsOfAPage);
    return ok({
      rows: rows.map(parkedReceiptView),
      next: found.length > rowsOfAPage ? (rows.at(-1)?.id ?? null) : null,
      parkedMinor: await sumParked(tx),
      currency: business.currency,
    });
  });
}
