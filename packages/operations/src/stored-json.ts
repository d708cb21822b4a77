import type { JsonValue } from '@grainwright/domain';

/**
 * Plain domain data as JSON for a jsonb column and back. Whole numbers of minor units are bigint, which JSON does
 * not have: they are stored as an object of one key, so that they can't be taken for text.
 */
export function toStoredJson(value: unknown): JsonValue {
  return JSON.parse(
    JSON.stringify(value, (_key, each: unknown) =>
      typeof each === 'bigint' ? { bigint: each.toString() } : each,
    ),
  ) as JsonValue;
}

/** Reads what `toStoredJson` wrote. The caller names the type it stored in that column. */
export function fromStoredJson<T>(stored: JsonValue): T {
  return revived(stored) as T;
}

function revived(stored: JsonValue): unknown {
  if (Array.isArray(stored)) return stored.map(revived);
  if (stored === null || typeof stored !== 'object') return stored;
  const entries = Object.entries(stored);
  const [only] = entries;
  if (entries.length === 1 && only?.[0] === 'bigint' && typeof only[1] === 'string') return BigInt(only[1]);
  return Object.fromEntries(entries.map(([key, each]) => [key, revived(each)]));
}
