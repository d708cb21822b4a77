import type { KeptAction } from '../action.ts';

/** The work order that the server told of beside a refusal. */
export interface ServerHas {
  readonly id: string;
  /** “WO-116” */
  readonly words: string;
  /** Whether it is another one than what was done is of: that vehicle was written up there before. */
  readonly isAnother: boolean;
}

/** Null where the server told of none. */
export function serverHasOf({
  action,
  serverHas,
}: Pick<KeptAction, 'action' | 'serverHas'>): ServerHas | null {
  if (typeof serverHas !== 'object' || serverHas === null) return null;
  const id: unknown = Reflect.get(serverHas, 'id');
  const number: unknown = Reflect.get(serverHas, 'number');
  // Kept by an earlier version of the app, which asked for its own only.
  if (typeof id !== 'string') return { id: action.workOrderId, words: 'it', isAnother: false };
  return { id, words: `WO-${String(number)}`, isAnother: id !== action.workOrderId };
}
