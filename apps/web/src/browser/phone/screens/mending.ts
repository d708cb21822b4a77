import { type Problem, problemCodes } from '@grainwright/domain';
import type { KeptAction } from '../action.ts';
import { workSteps } from '../needs.ts';

/** The refused action that a form mends, as its address says; null where it says none, or it is refused no more. */
export function mendingIn(query: URLSearchParams, actions: readonly KeptAction[]): KeptAction | null {
  const id = query.get('mend');
  return actions.find(({ action, state }) => action.id === id && state === 'conflict') ?? null;
}

/** What was done without it: neither it nor the steps that came after it. What was photographed since counts. */
export function withoutMended(
  actions: readonly KeptAction[],
  mending: KeptAction | null,
): readonly KeptAction[] {
  if (mending === null) return actions;
  const { action: refused, order } = mending;
  return actions.filter(
    (kept) =>
      kept.action.id !== refused.id &&
      !(
        kept.action.workOrderId === refused.workOrderId &&
        kept.order > order &&
        workSteps.includes(kept.action.kind)
      ),
  );
}

/** What the server said, for the form that mends it. */
export function problemOf({ refusal }: KeptAction): Problem | null {
  if (refusal === null) return null;
  const { code, detail, field } = refusal;
  const known = problemCodes.find((each) => each === code) ?? 'unavailable';
  return field === undefined ? { code: known, detail } : { code: known, detail, field };
}

/** A value of a request’s body as it was typed. */
export function typedIn(body: object, name: string): string {
  const value: unknown = Reflect.get(body, name);
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
}

export function listIn(body: object, name: string): readonly string[] {
  const value: unknown = Reflect.get(body, name);
  return Array.isArray(value) ? value.filter((each) => typeof each === 'string') : [];
}

export function recordsIn(body: object, name: string): readonly object[] {
  const value: unknown = Reflect.get(body, name);
  return Array.isArray(value) ? value.filter((each) => typeof each === 'object' && each !== null) : [];
}
