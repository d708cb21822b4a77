import type { Problem, Result } from '@grainwright/domain';

/** A problem on its way to the one place that answers it. */
export class ProblemError extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.code);
    this.problem = problem;
  }
}

/** The value, or the problem thrown to the error handler. */
export function unwrap<T>(result: Result<T>): T {
  if (!result.ok) throw new ProblemError(result.problem);
  return result.value;
}
