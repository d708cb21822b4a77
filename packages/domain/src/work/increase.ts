import type { Decimal } from '../money/decimal.ts';
import { displayMoney, percentOf } from '../money/money.ts';

/** What a total that was approved has become. Amounts are minor units with tax. */
export interface TotalChange {
  readonly approvedMinor: bigint;
  readonly newMinor: bigint;
  /** Below zero for a decrease. */
  readonly differenceMinor: bigint;
  /** Of what was approved, one decimal, half-up; null where that was nothing. */
  readonly percent: Decimal | null;
}

/**
 * How much more is asked than was approved. Many states want an increase consented to before the work; from which
 * amount on is theirs to say, so it is always asked and shown.
 */
export function changeOfTotal(approvedMinor: bigint, newMinor: bigint): TotalChange {
  const differenceMinor = newMinor - approvedMinor;
  return { approvedMinor, newMinor, differenceMinor, percent: percentOf(differenceMinor, approvedMinor) };
}

/** In words: “from $239.63 to $330.69, $91.06 more (+38.0 %)”. */
export function changeWords(
  { approvedMinor, newMinor, differenceMinor, percent }: TotalChange,
  currency: string,
): string {
  const amount = (minor: bigint) => displayMoney(minor, currency);
  const difference =
    differenceMinor < 0n ? `${amount(-differenceMinor)} less` : `${amount(differenceMinor)} more`;
  const share = percent === null ? '' : ` (${signedTenths(percent)} %)`;
  return `from ${amount(approvedMinor)} to ${amount(newMinor)}, ${difference}${share}`;
}

/** Always with its one decimal, since it stands beside others. */
function signedTenths({ digits }: Decimal): string {
  const tenths = digits < 0n ? -digits : digits;
  return `${digits < 0n ? '−' : '+'}${tenths / 10n}.${tenths % 10n}`;
}
