import { canonicalJson, type JsonValue } from '../canonical-json.ts';

/** A record as it was read: nothing is known of it until it is asked for a member of a kind. */
export type JsonObject = { readonly [key: string]: JsonValue };

/** A JSON text as a value; null for what is none. */
export function parsedJson(text: string): JsonValue | null {
  try {
    const value: JsonValue = JSON.parse(text);
    return value;
  } catch {
    return null;
  }
}

/** Whether a text is the one canonical text of its value (RFC 8785): then everybody reads the same from it. */
export function isCanonical(text: string): boolean {
  const value = parsedJson(text);
  try {
    return canonicalJson(value) === text;
  } catch {
    return false;
  }
}

export function objectIn(value: JsonValue | undefined): JsonObject {
  return isObject(value) ? value : {};
}

export function isObject(value: JsonValue | undefined): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function listIn(value: JsonValue | undefined): readonly JsonValue[] {
  return Array.isArray(value) ? value : [];
}

/** Empty where it is no text. */
export function textIn(value: JsonValue | undefined): string {
  return typeof value === 'string' ? value : '';
}

export function textOrNull(value: JsonValue | undefined): string | null {
  return typeof value === 'string' ? value : null;
}

/** A whole number of zero and more; −1 where it is none. */
export function countIn(value: JsonValue | undefined): number {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0 ? value : -1;
}
