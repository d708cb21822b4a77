import {
  compareDecimals,
  type Decimal,
  formatDecimal,
  ok,
  parseMoney,
  type Result,
  refuse,
  type TripZone,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readNumber, readWords } from '../read-input.ts';

/** A zone of the trip, as typed. */
export interface TripZoneInput {
  readonly name: string;
  readonly upToMiles: string;
  readonly amount: string;
}

const zonesMax = 12;

/** Zones from near to far. A problem's field is the zone's, such as `trip_zones.0.up_to_miles`. */
export function readTripZones(
  zones: readonly TripZoneInput[],
  currency: string,
): Result<readonly TripZone[]> {
  if (zones.length > zonesMax)
    return refuse('invalid_input', `Write at most ${zonesMax} zones.`, 'trip_zones');
  const read: TripZone[] = [];
  for (const [index, zone] of zones.entries()) {
    const field = `trip_zones.${index}`;
    const one = everyResult({
      name: readWords(zone.name, `${field}.name`, 'what the zone is called', 40),
      upToMiles: readNumber(zone.upToMiles, `${field}.up_to_miles`, {
        least: '0.1',
        most: '5000',
        decimals: 1,
      }),
      amountMinor: parseMoney(zone.amount, { currency, field: `${field}.amount` }),
    });
    if (!one.ok) return one;
    const fits = checkFarther(one.value.upToMiles, read.at(-1), `${field}.up_to_miles`);
    if (!fits.ok) return fits;
    read.push(one.value);
  }
  return ok(read);
}

function checkFarther(upToMiles: Decimal, nearer: TripZone | undefined, field: string): Result<void> {
  if (nearer === undefined || compareDecimals(upToMiles, nearer.upToMiles) > 0) return ok(undefined);
  return refuse(
    'invalid_input',
    `Zones go from near to far: this one must reach farther than “${nearer.name}”, ${formatDecimal(nearer.upToMiles)} mi.`,
    field,
  );
}
