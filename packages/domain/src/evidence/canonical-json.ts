import canonicalize from 'canonicalize';

/** What JSON can say. Amounts go in as decimal strings, since a JSON number can't hold every `bigint`. */
export type JsonValue =
  | null
  | boolean
  | number
  | string
  | readonly JsonValue[]
  | { readonly [key: string]: JsonValue };

/**
 * The one text of a JSON value (RFC 8785, JSON Canonicalization Scheme): what digests are taken of, as UTF-8.
 * Throws for what JSON has no word for (undefined, bigint, NaN, infinity, a lone surrogate, an object that
 * is not plain), where the library would leave it out or change it without a sound.
 */
export function canonicalJson(value: JsonValue): string {
  assertJson(value, '$', new Set());
  const text = canonicalize(value);
  if (text === undefined) throw new Error('not a JSON value');
  return text;
}

function assertJson(value: unknown, path: string, above: ReadonlySet<object>): void {
  if (typeof value === 'object' && value !== null) {
    if (above.has(value)) throw new Error(`${path} contains itself`);
    assertMembers(value, path, new Set([...above, value]));
  } else if (!isJsonScalar(value)) {
    throw new Error(`${path} is a ${typeof value} that JSON can't say`);
  }
}

function assertMembers(value: object, path: string, above: ReadonlySet<object>): void {
  if (Array.isArray(value)) {
    // By index, because iteration helpers skip the holes of a sparse array.
    for (let index = 0; index < value.length; index += 1)
      assertJson(value[index], `${path}[${index}]`, above);
    return;
  }
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) throw new Error(`${path} is not a plain object`);
  for (const [key, member] of Object.entries(value)) {
    assertJson(key, `${path}.${key}`, above);
    assertJson(member, `${path}.${key}`, above);
  }
}

function isJsonScalar(value: unknown): boolean {
  if (typeof value === 'string') return value.isWellFormed();
  if (typeof value === 'number') return Number.isFinite(value);
  return value === null || typeof value === 'boolean';
}
