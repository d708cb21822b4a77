import { ok, type Result } from '@grainwright/domain';

type Values<T> = { readonly [Name in keyof T]: T[Name] extends Result<infer Value> ? Value : never };

/** All the values under their names, or the first problem in the order they were written. */
export function everyResult<T extends Readonly<Record<string, Result<unknown>>>>(
  results: T,
): Result<Values<T>> {
  const values: Record<string, unknown> = {};
  for (const [name, result] of Object.entries(results)) {
    if (!result.ok) return result;
    values[name] = result.value;
  }
  return ok(values as Values<T>);
}
