import type { Decimal } from '../money/decimal.ts';
import { displayPercent, formatMinor, roundHalfUp } from '../money/money.ts';

/** What a visit costs on top of its repairs for when it was made, as a share of them. All of it is labor. */
export interface Surcharge {
  readonly percent: Decimal;
  readonly minimumMinor: bigint;
  readonly amountMinor: bigint;
  readonly trail: string;
  /** Where an invoice that was credited held less than the rule makes of its repairs: what it held, of which. */
  readonly share?: { readonly amountMinor: bigint; readonly repairsMinor: bigint };
}

export type SurchargeRule = Pick<Surcharge, 'percent' | 'minimumMinor'>;

/** Percent of repairs (rounded), at least the minimum; zero where nothing is charged. */
export function surchargeFor(repairsMinor: bigint, rule: SurchargeRule): bigint {
  if (repairsMinor <= 0n) return 0n;
  const share = roundHalfUp(repairsMinor, rule.percent);
  if (share < rule.minimumMinor) return rule.minimumMinor;
  return share;
}

/** The charge with its trail, `words` first: “after hours 25 % of 195.00 → 48.75”. Null where it comes to nothing. */
export function surcharge(words: string, repairsMinor: bigint, rule: SurchargeRule): Surcharge | null {
  const amountMinor = surchargeFor(repairsMinor, rule);
  if (amountMinor === 0n) return null;
  const share = `${words} ${displayPercent(rule.percent)} of ${formatMinor(repairsMinor)}`;
  const atLeast =
    amountMinor === roundHalfUp(repairsMinor, rule.percent)
      ? ''
      : `, at least ${formatMinor(rule.minimumMinor)}`;
  return { ...rule, amountMinor, trail: `${share}${atLeast} → ${formatMinor(amountMinor)}` };
}
