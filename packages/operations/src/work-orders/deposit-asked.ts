import { type JoinedWorkOrder, sumDepositsHeld } from '@grainwright/db';
import type { EstimatePrice } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** What a retail customer is asked for in advance, and what of it is there. Amounts are minor units. */
export interface DepositAskedView {
  /** By the price book's terms that the estimate was priced with. */
  readonly askedMinor: bigint;
  /** Held for this work, or for whatever the account is invoiced next. */
  readonly heldMinor: bigint;
}

/** Null where nothing is asked and nothing is held, and once the work is invoiced. */
export async function depositAsked(
  { tx }: Scope,
  { workOrder, account }: JoinedWorkOrder,
  price: EstimatePrice | null,
): Promise<DepositAskedView | null> {
  if (over.includes(workOrder.state)) return null;
  const heldMinor = await sumDepositsHeld(tx, account.id, workOrder.id);
  const askedMinor = account.kind === 'retail' && price !== null ? price.depositMinor : 0n;
  return askedMinor === 0n && heldMinor === 0n ? null : { askedMinor, heldMinor };
}

const over: readonly JoinedWorkOrder['workOrder']['state'][] = [
  'declined',
  'invoiced',
  'paid',
  'void',
  'written_off',
];
