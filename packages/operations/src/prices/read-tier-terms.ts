import { type Decimal, ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readPercent } from '../read-input.ts';

export interface TierTermsInput {
  /** Off list. */
  readonly discountPercent: string;
  readonly vehicleMinimum: string;
  /** Repairs of a visit from which the trip is waived; null: never. */
  readonly tripWaivedFrom: string | null;
}

/** What a tier pays by. */
export function readTierTerms(
  input: TierTermsInput,
  currency: string,
): Result<{
  readonly discountPercent: Decimal;
  readonly vehicleMinimumMinor: bigint;
  readonly tripWaivedFromMinor: bigint | null;
}> {
  const read = everyResult({
    discountPercent: readPercent(input.discountPercent, 'discount_percent'),
    vehicleMinimumMinor: parseMoney(input.vehicleMinimum, { currency, field: 'vehicle_minimum' }),
    tripWaivedFromMinor:
      input.tripWaivedFrom === null
        ? ok(null)
        : parseMoney(input.tripWaivedFrom, { currency, field: 'trip_waived_from' }),
  });
  if (read.ok && read.value.tripWaivedFromMinor === 0n)
    return refuse(
      'invalid_money',
      'Write an amount above zero, or leave it empty if the trip is never waived.',
      'trip_waived_from',
    );
  return read;
}
