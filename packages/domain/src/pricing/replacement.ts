import type { Decimal } from '../money/decimal.ts';
import { sumMinor, timesHalfUp } from '../money/money.ts';
import { type PartPosition, partPositions, type VehiclePart, vehicleParts } from '../work/damage.ts';

/** A part of one vehicle, which a new one could be bought for. */
export interface PlacedPart {
  readonly part: VehiclePart;
  readonly side: PartPosition | null;
}

/** What a new part costs, fitted, before tax; without a part it is one sum for all damaged parts together. */
export interface QuotedPart {
  readonly placed: PlacedPart | null;
  readonly amountMinor: bigint;
}

/** A part and the labor to fit it. */
export interface FittedPart {
  readonly partMinor: bigint;
  readonly hours: Decimal;
  readonly hourlyMinor: bigint;
}

/** The labor is rounded by itself, as a quote prints it. */
export function fittedMinor({ partMinor, hours, hourlyMinor }: FittedPart): bigint {
  return partMinor + timesHalfUp(hourlyMinor, hours);
}

/** A line of a work order, as far as a new part could stand for it. */
export interface ReplaceableLine extends PlacedPart {
  readonly repairsDamage: boolean;
  readonly declined: boolean;
}

/** The parts that are repaired, each once, in the order written. */
export function repairedParts(lines: readonly ReplaceableLine[]): readonly PlacedPart[] {
  const repaired = lines.filter((line) => line.repairsDamage && !line.declined);
  return repaired
    .filter((line, index) => repaired.findIndex((other) => isThatPart(line, other)) === index)
    .map(({ part, side }) => ({ part, side }));
}

export interface ReplacementCost<Quote extends QuotedPart> {
  /** Those that stand against the repair: a part that was declined is not repaired, so its quote saves nothing. */
  readonly counted: readonly Quote[];
  /** Their sum; null where nothing is quoted. */
  readonly minor: bigint | null;
  /** Repaired parts without a quote. */
  readonly unquoted: readonly PlacedPart[];
}

export function replacementCost<Quote extends QuotedPart>(
  quotes: readonly Quote[],
  lines: readonly ReplaceableLine[],
): ReplacementCost<Quote> {
  const parts = repairedParts(lines);
  const counted = quotes.filter(
    ({ placed }) => placed === null || parts.some((part) => isForPart(placed, part)),
  );
  const unquoted = parts.filter(
    (part) => !counted.some(({ placed }) => placed === null || isForPart(placed, part)),
  );
  const minor = counted.length === 0 ? null : sumMinor(counted.map(({ amountMinor }) => amountMinor));
  return { counted, minor, unquoted };
}

/** A side that is not said may be either. */
export function isForPart(quoted: PlacedPart, part: PlacedPart): boolean {
  if (quoted.part !== part.part) return false;
  return quoted.side === null || part.side === null || quoted.side === part.side;
}

/** E.g. “quarter trim, left”. */
export function placedPartWords({ part, side }: PlacedPart): string {
  return side === null ? vehicleParts[part] : `${vehicleParts[part]}, ${partPositions[side]}`;
}

/**
 * What a new panel usually costs, fitted, or more: shown as typical where nothing is quoted, and never counted as a
 * saving. Common practice, no published source, and for dollars only.
 */
export const typicalReplacement = { currency: 'USD', fromMinor: 50_000n, toMinor: 150_000n } as const;

function isThatPart(a: PlacedPart, b: PlacedPart): boolean {
  return a.part === b.part && a.side === b.side;
}
