import type { Decimal } from '../money/decimal.ts';
import { displayPercent, formatMinor, roundHalfUp } from '../money/money.ts';

/** A line's price before further repairs, and the list price (with its care factors) that its floor is a share of. */
export interface FloorQuestion {
  /** The line's words, e.g. “Cut or tear, dash”. */
  readonly label: string;
  readonly priceMinor: bigint;
  readonly listMinor: bigint;
  readonly floorPercent: Decimal;
}

/** The floor of a line's price, rounded half-up. Common practice, no source; the share is configuration. */
export function floorOf({
  listMinor,
  floorPercent,
}: Pick<FloorQuestion, 'listMinor' | 'floorPercent'>): bigint {
  return roundHalfUp(listMinor, floorPercent);
}

/** Says which line is below its floor, and who can consent; the same sentence for whoever is refused. */
export function belowFloorSentence(asked: FloorQuestion, currency: string): string {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return `“${asked.label}” at ${amount(asked.priceMinor)} is below the floor of ${displayPercent(asked.floorPercent)} of list (${amount(floorOf(asked))}). The owner of the business can consent to it.`;
}
