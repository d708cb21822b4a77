import { addDays, type Day } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';
import { roundHalfUp } from '../money/money.ts';

/** How a business charges for paying late. Off while the percent is zero. */
export interface LateChargePolicy {
  /** Simple, for a month. */
  readonly percent: Decimal;
  /** Days past due on which nothing is charged yet. */
  readonly graceDays: number;
}

export interface LateAmount {
  readonly dueOn: Day;
  readonly openMinor: bigint;
  /** What of it the customer does not agree with; nothing is charged on that. */
  readonly disputedMinor: bigint;
}

export interface LateCharge {
  readonly baseMinor: bigint;
  readonly amountMinor: bigint;
}

/**
 * A month's late charge on what is open, undisputed and past its due date by more than the days of grace; null where
 * there is none. Half-up, never on a late charge and not compounded: the caller gives no late charges. Common practice of
 * the trade; the most that may be charged is a matter of local law.
 */
export function lateCharge(late: LateAmount, policy: LateChargePolicy, on: Day): LateCharge | null {
  const baseMinor = late.openMinor - late.disputedMinor;
  if (baseMinor <= 0n || on <= addDays(late.dueOn, policy.graceDays)) return null;
  const amountMinor = roundHalfUp(baseMinor, policy.percent);
  return amountMinor > 0n ? { baseMinor, amountMinor } : null;
}
