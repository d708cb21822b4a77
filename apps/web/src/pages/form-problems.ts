import type { Problem } from '@grainwright/domain';
import type { FieldError } from '../look/forms.ts';

/** What a form that came back says: beside the field where it is one of the form's own, else at the top. */
export interface FormProblems {
  readonly errorOf: (field: string) => string | undefined;
  readonly summary: readonly FieldError[];
}

/** `fields` are the names of the form's fields; a problem of another field is of the whole form. */
export function problemsOf(problem: Problem | null, fields: readonly string[]): FormProblems {
  if (problem === null) return { errorOf: () => undefined, summary: [] };
  const field = problem.field !== undefined && fields.includes(problem.field) ? problem.field : null;
  return {
    errorOf: (name) => (name === field ? problem.detail : undefined),
    summary: [{ field, message: problem.detail }],
  };
}
