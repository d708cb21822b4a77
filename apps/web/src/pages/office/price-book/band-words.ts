import { formatDecimal } from '@grainwright/domain';
import type { RateWithPrices } from '@grainwright/operations';

/** The sizes that a rate covers. */
export function bandWords({ overInches, toInches }: Pick<RateWithPrices, 'overInches' | 'toInches'>): string {
  if (overInches === null || toInches === null) return 'not measured';
  return overInches.digits === 0n
    ? `up to ${formatDecimal(toInches)} in`
    : `over ${formatDecimal(overInches)} to ${formatDecimal(toInches)} in`;
}
