import { type Decimal, displayMoney, ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readPercent } from '../read-input.ts';

export interface TierTermsInput {
  /** Off list. */
  readonly discountPercent: string;
  readonly vehicleMinimum: string;
  /** The most that a vehicle's repairs come to; null or left out: no such limit. */
  readonly vehicleCap?: string | null | undefined;
  /** What a visit's repairs come to at least; left out: nothing. */
  readonly visitMinimum?: string | undefined;
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
  readonly vehicleCapMinor: bigint | null;
  readonly visitMinimumMinor: bigint;
  readonly tripWaivedFromMinor: bigint | null;
}> {
  const read = everyResult({
    discountPercent: readPercent(input.discountPercent, 'discount_percent'),
    vehicleMinimumMinor: parseMoney(input.vehicleMinimum, { currency, field: 'vehicle_minimum' }),
    vehicleCapMinor:
      input.vehicleCap === null || input.vehicleCap === undefined
        ? ok(null)
        : parseMoney(input.vehicleCap, { currency, field: 'vehicle_cap' }),
    visitMinimumMinor: parseMoney(input.visitMinimum ?? '0', { currency, field: 'visit_minimum' }),
    tripWaivedFromMinor:
      input.tripWaivedFrom === null
        ? ok(null)
        : parseMoney(input.tripWaivedFrom, { currency, field: 'trip_waived_from' }),
  });
  return read.ok ? check(read.value, currency) : read;
}

interface TierAmounts {
  readonly vehicleMinimumMinor: bigint;
  readonly vehicleCapMinor: bigint | null;
  readonly tripWaivedFromMinor: bigint | null;
}

function check<Terms extends TierAmounts>(terms: Terms, currency: string): Result<Terms> {
  const { vehicleMinimumMinor, vehicleCapMinor, tripWaivedFromMinor } = terms;
  if (vehicleCapMinor === 0n)
    return refuse(
      'invalid_money',
      'Write an amount above zero, or leave it empty if a vehicle may come to any amount.',
      'vehicle_cap',
    );
  if (vehicleCapMinor !== null && vehicleCapMinor < vehicleMinimumMinor)
    return refuse(
      'invalid_money',
      `The most for a vehicle is below its minimum, ${displayMoney(vehicleMinimumMinor, currency)}. Raise it, or lower the minimum.`,
      'vehicle_cap',
    );
  if (tripWaivedFromMinor === 0n)
    return refuse(
      'invalid_money',
      'Write an amount above zero, or leave it empty if the trip is never waived.',
      'trip_waived_from',
    );
  return ok(terms);
}
