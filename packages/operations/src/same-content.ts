import { type Decimal, formatDecimal } from '@grainwright/domain';

/** Plain data as it stands in a row: texts, numbers, amounts, decimals, lists, nothing. */
type Stored = string | number | bigint | boolean | null | Decimal | readonly Stored[];

/**
 * Whether what is stored says the same as what was given, field by field of `given`: how a repeated request is told
 * from another one under the same id. 45 and 45.000 are the same number.
 */
export function sameContent<Given extends Readonly<Record<string, Stored>>>(
  stored: { readonly [Name in keyof Given]: Stored },
  given: Given,
): boolean {
  return Object.keys(given).every((name) => asText(stored[name] ?? null) === asText(given[name] ?? null));
}

function asText(value: Stored): string {
  if (value === null || typeof value !== 'object') return `${typeof value} ${String(value)}`;
  if ('digits' in value) return `decimal ${formatDecimal(value)}`;
  return `[${value.map(asText).join(', ')}]`;
}
