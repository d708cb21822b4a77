import type { Decimal } from '../money/decimal.ts';
import { percentOf } from '../money/money.ts';

export interface Savings {
  /** Negative where the repair costs more than a replacement. */
  readonly savedMinor: bigint;
  /** Of the replacement, one decimal, half-up. */
  readonly percent: Decimal;
}

/** What a repair saved against a quoted replacement, both before tax; null without a quote above zero. */
export function savings(replacementMinor: bigint, repairMinor: bigint): Savings | null {
  const savedMinor = replacementMinor - repairMinor;
  const percent = percentOf(savedMinor, replacementMinor);
  return percent === null ? null : { savedMinor, percent };
}
