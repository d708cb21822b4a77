import type { Result } from '@grainwright/domain';

/** The value of something that has to work for the test to mean anything; throws the problem's words otherwise. */
export function must<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  const { code, detail, field } = result.problem;
  throw new Error(`${code}${field === undefined ? '' : ` (${field})`}: ${detail}`);
}
