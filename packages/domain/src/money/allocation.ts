import { sumMinor } from './money.ts';

/**
 * Shares an amount by weights so that the shares are whole minor units and add up to it exactly: everybody
 * gets the whole part of the exact quota, and what is left goes one by one to the largest remainders
 * (Hamilton's method), equal remainders to the earlier one. A weight of zero gets nothing, unless all are
 * zero: then all count the same. A negative amount is shared like its opposite. Throws for a negative weight
 * and for an amount that nobody can take.
 */
export function allocate(amountMinor: bigint, weights: readonly bigint[]): readonly bigint[] {
  if (weights.some((weight) => weight < 0n)) throw new Error('a weight is negative');
  if (weights.length === 0) {
    if (amountMinor !== 0n) throw new Error('an amount needs somebody to take it');
    return [];
  }
  if (amountMinor < 0n) return allocate(-amountMinor, weights).map((share) => -share);
  const total = sumMinor(weights);
  if (total === 0n)
    return allocate(
      amountMinor,
      weights.map(() => 1n),
    );
  const shares = weights.map((weight, index) => ({
    index,
    whole: (amountMinor * weight) / total,
    remainder: (amountMinor * weight) % total,
  }));
  const left = Number(amountMinor - sumMinor(shares.map((share) => share.whole)));
  const raised = new Set(
    shares
      .toSorted((a, b) => Number(b.remainder > a.remainder) - Number(b.remainder < a.remainder))
      .slice(0, left)
      .map((share) => share.index),
  );
  return shares.map((share) => share.whole + (raised.has(share.index) ? 1n : 0n));
}
