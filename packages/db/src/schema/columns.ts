import {
  type Day,
  type Decimal,
  decimal,
  formatDecimal,
  type Instant,
  instant,
  shownCode,
  shownTrail,
  type TripZone,
} from '@grainwright/domain';
import { customType } from 'drizzle-orm/pg-core';

/** A uuid column, branded by what it identifies. */
export function id<T extends string = string>(name: string) {
  return customType<{ data: T; driverData: string }>({
    dataType: () => 'uuid',
    fromDriver: (value) => value as T,
  })(name);
}

const wholeNumber = customType<{ data: bigint; driverData: string }>({
  dataType: () => 'bigint',
  fromDriver: (value) => BigInt(value),
  toDriver: (value) => value.toString(),
});
/** An amount in minor units of the currency. */
export const minor = (name: string) => wholeNumber(name);
/** A count or a running number. */
export const whole = (name: string) => wholeNumber(name);

export const exact = customType<{ data: Decimal; driverData: string }>({
  dataType: () => 'numeric',
  fromDriver: (value) => decimal(value),
  toDriver: (value) => formatDecimal(value),
});

export const decimals = customType<{ data: readonly Decimal[]; driverData: string }>({
  dataType: () => 'numeric[]',
  fromDriver: (value) =>
    (Array.isArray(value) ? value : value.slice(1, -1).split(',')).map((text) => decimal(String(text))),
  toDriver: (value) => `{${value.map(formatDecimal).join(',')}}`,
});

interface StoredZone {
  readonly name: string;
  readonly up_to_miles: string;
  readonly amount_minor: string;
}

/** Zones of a trip, from near to far. */
export const tripZones = customType<{
  data: readonly TripZone[];
  driverData: string | readonly StoredZone[];
}>({
  dataType: () => 'jsonb',
  fromDriver: (value) =>
    (typeof value === 'string' ? (JSON.parse(value) as readonly StoredZone[]) : value).map((zone) => ({
      name: zone.name,
      upToMiles: decimal(zone.up_to_miles),
      amountMinor: BigInt(zone.amount_minor),
    })),
  toDriver: (value) =>
    JSON.stringify(
      value.map((zone) => ({
        name: zone.name,
        up_to_miles: formatDecimal(zone.upToMiles),
        amount_minor: zone.amountMinor.toString(),
      })),
    ),
});

export const day = customType<{ data: Day; driverData: string }>({
  dataType: () => 'date',
  fromDriver: (value) => value as Day,
});

export const moment = customType<{ data: Instant; driverData: string }>({
  dataType: () => 'timestamptz',
  fromDriver: (value) => instant(value.replace(' ', 'T')),
});

/** How an amount came about, in words for everybody: no account reads why a price was made by hand. */
export const trail = customType<{ data: string; driverData: string }>({
  dataType: () => 'text',
  fromDriver: shownTrail,
});

/** The code of a priced line, in words for everybody. */
export const lineCode = customType<{ data: string; driverData: string }>({
  dataType: () => 'text',
  fromDriver: shownCode,
});
