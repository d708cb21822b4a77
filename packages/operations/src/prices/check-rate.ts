import type { RateRow } from '@grainwright/db';
import { compareDecimals, type Decimal, ok, type Result, refuse } from '@grainwright/domain';
import { leavesGap, periodsOverlap, refuseGap, refuseOverlap } from './overlap.ts';

export type NewRate = Omit<RateRow, 'tenantId'>;

/**
 * Whether a rate fits among the others: `duplicate` where periods of its code or sizes of its family overlap,
 * `dates_out_of_order` where its code would be without a price between two periods.
 */
export function checkRate(rate: NewRate, others: readonly NewRate[]): Result<void> {
  const given = { from: rate.validFrom, to: rate.validTo };
  for (const other of others) {
    const there = { from: other.validFrom, to: other.validTo };
    if (!periodsOverlap(given, there)) continue;
    if (other.code === rate.code) return refuseOverlap(`the rate ${rate.code}`, given, there);
    if (other.family === rate.family && bandsOverlap(rate, other))
      return refuse(
        'duplicate',
        `${other.code} of the same family covers these sizes at that time. Give ${rate.code} other sizes or another family.`,
        'over_inches',
      );
  }
  return checkGaps(
    rate,
    others.filter((other) => other.code === rate.code),
  );
}

function checkGaps(rate: NewRate, sameCode: readonly NewRate[]): Result<void> {
  const periods = [...sameCode, rate]
    .map(({ validFrom, validTo }) => ({ from: validFrom, to: validTo }))
    .toSorted((a, b) => (a.from < b.from ? -1 : 1));
  const place = periods.findIndex(({ from }) => from === rate.validFrom);
  for (const [before, after] of [periods.slice(place - 1, place + 1), periods.slice(place, place + 2)]) {
    if (before === undefined || after === undefined) continue;
    const gap = leavesGap(before, after);
    if (gap !== null) return refuseGap(`the rate ${rate.code}`, gap, after);
  }
  return ok(undefined);
}

/** Where nothing is measured, a family has one rate. */
function bandsOverlap(a: NewRate, b: NewRate): boolean {
  const [bandA, bandB] = [bandOf(a), bandOf(b)];
  if (bandA === null || bandB === null) return true;
  return compareDecimals(bandA.over, bandB.to) < 0 && compareDecimals(bandB.over, bandA.to) < 0;
}

function bandOf(rate: NewRate): { over: Decimal; to: Decimal } | null {
  return rate.overInches === null || rate.toInches === null
    ? null
    : { over: rate.overInches, to: rate.toInches };
}
