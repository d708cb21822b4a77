import type { ActionKind, KeptAction, PhoneAction } from './action.ts';

/** What the next action to be sent is looked for with, besides the actions themselves. */
export interface SendingNow {
  /** Ids of actions that the server could not take just now. */
  readonly passedOver?: ReadonlySet<string>;
  /** Ids of work orders of which the server said that their work is done. */
  readonly finishedThere?: ReadonlySet<string>;
}

/**
 * The first action that can be sent now: it waits, is not passed over, and nothing that it needs is still waiting or was
 * refused. Null where there is none. What does not need a refused one goes on without it.
 */
export function nextToSend(
  actions: readonly KeptAction[],
  { passedOver = new Set(), finishedThere = new Set() }: SendingNow = {},
): KeptAction | null {
  const open = actions.filter(isOpen);
  const next = open.find(
    (kept) =>
      kept.state === 'waiting' &&
      !passedOver.has(kept.action.id) &&
      !open.some((other) => holdsBack(other, kept, open)) &&
      !awaitsFinishAnew(kept, actions, finishedThere),
  );
  return next ?? null;
}

/** By what a work order is carried forward, in the order in which it is. */
export const workSteps: readonly ActionKind[] = [
  'estimate',
  'start',
  'finish',
  'acceptance',
  'missing_signature',
];

/** Not with the server, and not given up. */
export function isOpen({ state }: KeptAction): boolean {
  return state === 'waiting' || state === 'conflict';
}

function holdsBack(other: KeptAction, kept: KeptAction, open: readonly KeptAction[]): boolean {
  if (other === kept || other.action.workOrderId !== kept.action.workOrderId) return false;
  // A step that was refused, given up and done again stands behind what needs it, and still goes first.
  if (standsOn(kept.action, other.action)) return true;
  if (other.order > kept.order || standsOn(other.action, kept.action)) return false;
  return needsEarlier(kept.action, other.action) && !isOnlyLater(other, kept, open);
}

/**
 * What waits and will not go out by itself: it needs something that was refused, or that was given up and not done again.
 * Somebody has to decide first.
 */
export function awaitingDecision(
  actions: readonly KeptAction[],
  finishedThere: ReadonlySet<string> = new Set(),
): readonly KeptAction[] {
  let rest = actions;
  for (;;) {
    const next = nextToSend(rest, { finishedThere });
    if (next === null) return rest.filter(({ state }) => state === 'waiting');
    rest = rest.map((kept) => (kept === next ? { ...kept, state: 'sent' } : kept));
  }
}

/** Whether the server takes an action only once the work order has come to where another one brings it. */
export function standsOn(action: PhoneAction, step: PhoneAction): boolean {
  if (step.kind === 'write_up') return action.kind !== 'write_up';
  switch (action.kind) {
    case 'photo':
      return action.body.purpose === 'after' && (step.kind === 'estimate' || step.kind === 'start');
    case 'start':
      return step.kind === 'estimate';
    case 'finish':
      return step.kind === 'estimate' || step.kind === 'start';
    case 'acceptance':
    case 'missing_signature':
      return step.kind === 'estimate' || step.kind === 'start' || step.kind === 'finish';
    default:
      return false;
  }
}

/** Whether an action goes out only after one of the same work order that was done before it. */
function needsEarlier(later: PhoneAction, earlier: PhoneAction): boolean {
  switch (later.kind) {
    case 'write_up':
    case 'recording':
      return false;
    // What was signed names lines and photos in the order in which they came to the server.
    case 'line':
      return earlier.kind === 'line';
    case 'photo':
      return earlier.kind === 'photo' || (earlier.kind === 'line' && earlier.id === later.body.line_id);
    case 'photo_reason':
      return earlier.kind === 'photo' && earlier.id === later.body.photo_id;
    case 'quote':
      return earlier.kind === 'line';
    // Each step stands on all that was done before it; a quote stops none, and why a photo is kept is asked at the end.
    case 'estimate':
    case 'start':
      return earlier.kind !== 'quote' && earlier.kind !== 'photo_reason';
    case 'finish':
    case 'acceptance':
    case 'missing_signature':
      return earlier.kind !== 'quote';
  }
}

/**
 * Of two photos the earlier one shows the repaired part, and waits for a start that was refused or done again since: the
 * other photo may be what that start lacks. Photos that show the same keep their order all the same.
 */
function isOnlyLater(earlier: KeptAction, later: KeptAction, open: readonly KeptAction[]): boolean {
  if (earlier.action.kind !== 'photo' || later.action.kind !== 'photo') return false;
  return open.some(
    (step) =>
      step.action.workOrderId === earlier.action.workOrderId &&
      standsOn(earlier.action, step.action) &&
      !standsOn(later.action, step.action) &&
      (step.state === 'conflict' || step.order > later.order),
  );
}

/**
 * The answer to work whose end was refused and given up: it waits until the work is finished again, here or in the office,
 * since the server would refuse it. It can be given up as well.
 */
export function awaitsFinishAnew(
  { action }: Pick<KeptAction, 'action'>,
  actions: readonly KeptAction[],
  finishedThere: ReadonlySet<string>,
): boolean {
  if (!isAnswer(action)) return false;
  const last = actions.findLast(
    (each) => each.action.kind === 'finish' && each.action.workOrderId === action.workOrderId,
  );
  return last?.state === 'dropped' && !finishedThere.has(action.workOrderId);
}

/** What is said of finished work, by whoever has to accept it or of them. */
function isAnswer({ kind }: PhoneAction): boolean {
  return kind === 'acceptance' || kind === 'missing_signature';
}

/**
 * Whether an action has to stay on the phone although it is settled: an answer that is still to be sent is let go, or kept
 * back, by the end of work that it stands on.
 */
export function holdsAnswer({ action }: Pick<KeptAction, 'action'>, actions: readonly KeptAction[]): boolean {
  return (
    action.kind === 'finish' &&
    actions.some(
      (each) => isOpen(each) && isAnswer(each.action) && each.action.workOrderId === action.workOrderId,
    )
  );
}
