import type { Result } from '@grainwright/domain';

/** The value; the demo's own input is known to be right, so a problem is a mistake in the demo. */
export function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`the demo was refused: ${result.problem.code}: ${result.problem.detail}`);
  return result.value;
}
