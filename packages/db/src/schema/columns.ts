import { type Day, type Decimal, decimal, formatDecimal, type Instant, instant } from '@grainwright/domain';
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

export const day = customType<{ data: Day; driverData: string }>({
  dataType: () => 'date',
  fromDriver: (value) => value as Day,
});

export const moment = customType<{ data: Instant; driverData: string }>({
  dataType: () => 'timestamptz',
  fromDriver: (value) => instant(value.replace(' ', 'T')),
});
