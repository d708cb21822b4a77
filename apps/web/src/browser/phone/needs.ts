import type { KeptAction, PhoneAction } from './action.ts';

/**
 * The first action that can be sent now: it waits, is not passed over, and nothing that it needs is still waiting or was
 * refused. Null where there is none. What does not need a refused one goes on without it.
 */
export function nextToSend(
  actions: readonly KeptAction[],
  passedOver: ReadonlySet<string> = new Set(),
): KeptAction | null {
  const open: PhoneAction[] = [];
  for (const kept of actions) {
    if (kept.state === 'sent' || kept.state === 'dropped') continue;
    const isNext = kept.state === 'waiting' && !passedOver.has(kept.action.id);
    if (isNext && !open.some((earlier) => needs(kept.action, earlier))) return kept;
    open.push(kept.action);
  }
  return null;
}

/** Whether an action can only be taken once an earlier one is there. */
export function needs(later: PhoneAction, earlier: PhoneAction): boolean {
  if (later.workOrderId !== earlier.workOrderId) return false;
  if (earlier.kind === 'write_up') return true;
  switch (later.kind) {
    case 'write_up':
    case 'line':
    case 'recording':
      return false;
    case 'photo':
      return (
        (earlier.kind === 'line' && earlier.id === later.body.line_id) ||
        (earlier.kind === 'photo' && earlier.id === later.body.retake_of)
      );
    case 'photo_reason':
      return earlier.kind === 'photo' && earlier.id === later.body.photo_id;
    case 'quote':
      return earlier.kind === 'line';
    // Each step stands on all that was done before it; a quote stops none.
    case 'estimate':
    case 'start':
    case 'finish':
    case 'acceptance':
    case 'missing_signature':
      return earlier.kind !== 'quote';
  }
}
