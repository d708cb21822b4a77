import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { KeptAction, PhoneAction } from './action.ts';
import { awaitingDecision, nextToSend } from './needs.ts';

const frame = (id: string) => ({ id, workOrderId: 'order', madeAt: '2026-08-05T09:00:00-05:00' });

const step = fc.constantFrom(
  'line',
  'recording',
  'quote',
  'estimate',
  'start',
  'finish',
  'acceptance',
  'none',
  'reason',
);
const photo = fc.record({
  purpose: fc.constantFrom('before', 'after', 'progress'),
  /** How many actions before it that which it names was done. */
  named: fc.nat(6),
  isRetake: fc.boolean(),
});

type Done =
  | { readonly kind: string }
  | { readonly purpose: string; readonly named: number; readonly isRetake: boolean };

/** Whatever a person did on one work order, in whatever order, steps done again included. */
const anyDay = fc.array(
  fc.oneof(
    step.map((kind): Done => ({ kind })),
    photo,
  ),
  { maxLength: 25 },
);

function actionOf(done: Done, index: number): PhoneAction {
  const id = `a-${index}`;
  if ('purpose' in done) {
    const named = `a-${Math.max(0, index - done.named)}`;
    const { purpose, isRetake } = done;
    const captured_at = '2026-08-05T09:00:00-05:00';
    const body = {
      purpose,
      line_id: isRetake ? null : named,
      captured_at,
      ...(isRetake && { retake_of: named }),
    };
    return { ...frame(id), kind: 'photo', body };
  }
  switch (done.kind) {
    case 'line':
    case 'quote':
    case 'estimate':
    case 'start':
    case 'finish':
    case 'acceptance':
      return { ...frame(id), kind: done.kind, body: {} };
    case 'recording':
      return { ...frame(id), kind: 'recording', body: { captured_at: '2026-08-05T09:00:00-05:00' } };
    case 'none':
      return { ...frame(id), kind: 'missing_signature', body: {} };
    default:
      return { ...frame(id), kind: 'photo_reason', body: { photo_id: `a-${index - 1}`, reason: 'as it is' } };
  }
}

function waiting(action: PhoneAction, index: number): KeptAction {
  const nothing = { file: null, sentBytes: 0, refusal: null, serverHas: null, lastTry: null, sentAt: null };
  return { order: index + 1, action, state: 'waiting', ...nothing };
}

test('nothing waits for what waits for it: where the server takes each, all goes out', () => {
  fc.assert(
    fc.property(anyDay, (day) => {
      let actions = day.map((done, index) => waiting(actionOf(done, index), index));
      for (;;) {
        const next = nextToSend(actions);
        if (next === null) break;
        actions = actions.map((kept) => (kept === next ? { ...kept, state: 'sent' } : kept));
      }
      expect(actions.filter(({ state }) => state === 'waiting')).toEqual([]);
    }),
    { numRuns: 2000 },
  );
});

test('what is put off holds back only what needs it, and of another work order nothing', () => {
  const own = waiting({ ...frame('line-1'), kind: 'line', body: {} }, 0);
  const next = waiting({ ...frame('line-2'), kind: 'line', body: {} }, 1);
  const recording = waiting(actionOf({ kind: 'recording' }, 2), 2);
  const other = waiting({ ...frame('line-3'), workOrderId: 'other', kind: 'line', body: {} }, 3);
  const passedOver = new Set(['line-1']);
  expect(nextToSend([own, next, recording, other], { passedOver })).toBe(recording);
  expect(nextToSend([own, next, other], { passedOver })).toBe(other);
  expect(nextToSend([own, next], { passedOver })).toBeNull();
});

test('what needs something refused or given up waits for a decision; all else goes out by itself', () => {
  const made = ['start', 'finish', 'acceptance'].map((kind, index) =>
    waiting(actionOf({ kind }, index), index),
  );
  const recording = waiting(actionOf({ kind: 'recording' }, 3), 3);
  const [start, finish, acceptance] = made;
  if (start === undefined || finish === undefined || acceptance === undefined)
    throw new Error('three were made');
  const refused: KeptAction = { ...start, state: 'conflict' };
  expect(awaitingDecision([...made, recording])).toEqual([]);
  expect(awaitingDecision([refused, finish, acceptance, recording])).toEqual([finish, acceptance]);
  const givenUp: KeptAction = { ...finish, state: 'dropped' };
  expect(awaitingDecision([start, givenUp, acceptance])).toEqual([acceptance]);
  expect(awaitingDecision([start, givenUp, acceptance], new Set(['order']))).toEqual([]);
});
