import { type FoundReceipt, findParkedReceipt } from '@grainwright/db';
import type { ReceiptId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** Money without a known payer, and whose payment it became. */
export type ParkedReceiptView = Omit<FoundReceipt, 'recordedBy'>;

export async function parkedReceiptViewOf(
  { tx }: Pick<Scope, 'tx'>,
  id: ReceiptId,
): Promise<ParkedReceiptView> {
  const found = await findParkedReceipt(tx, id);
  if (found === null) throw new Error('a receipt that was just there is gone');
  return parkedReceiptView(found);
}

export function parkedReceiptView({ recordedBy: _recordedBy, ...shown }: FoundReceipt): ParkedReceiptView {
  return shown;
}
