import type { Problem } from './problems.ts';

/** What a rule or an operation answers: the value, or a problem that a person can act on. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: Problem };

export function ok<T>(value: T): Result<T> {
  return { ok: true, value };
}

export function refuse(
  code: Problem['code'],
  detail: string,
  field?: string,
): { readonly ok: false; readonly problem: Problem } {
  return { ok: false, problem: field === undefined ? { code, detail } : { code, detail, field } };
}
