import { formatDecimal, materials, vehicleParts } from '@grainwright/domain';
import type { RateWithPrices } from '@grainwright/operations';

/** The sizes that a rate covers. */
export function bandWords({ overInches, toInches }: Pick<RateWithPrices, 'overInches' | 'toInches'>): string {
  if (overInches === null || toInches === null) return 'not measured';
  return overInches.digits === 0n
    ? `up to ${formatDecimal(toInches)} in`
    : `over ${formatDecimal(overInches)} to ${formatDecimal(toInches)} in`;
}

/** The only part and material that a rate is for, e.g. “dash, leather”; empty for any. */
export function onlyForWords({ part, material }: Pick<RateWithPrices, 'part' | 'material'>): string {
  return [
    ...(part === null ? [] : [vehicleParts[part]]),
    ...(material === null ? [] : [materials[material]]),
  ].join(', ');
}
