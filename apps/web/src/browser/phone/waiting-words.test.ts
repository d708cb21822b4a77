import { expect, test } from 'vitest';
import type { KeptAction, PhoneAction } from './action.ts';
import { signOutWords } from './waiting-words.ts';

function kept(kind: 'photo' | 'start', state: KeptAction['state'], order: number): KeptAction {
  const frame = { id: String(order), workOrderId: 'order', madeAt: '2026-08-05T09:00:00-05:00' };
  const action: PhoneAction =
    kind === 'photo'
      ? { ...frame, kind, body: { purpose: 'before', line_id: null, captured_at: frame.madeAt } }
      : { ...frame, kind, body: {} };
  return {
    order,
    action,
    state,
    file: null,
    sentBytes: 0,
    refusal: null,
    serverHas: null,
    lastTry: null,
    sentAt: null,
  };
}

test('who signs out is asked about all that the office has not: what waits, what it did not take, and forms', () => {
  const actions = [kept('photo', 'waiting', 1), kept('start', 'waiting', 2), kept('start', 'conflict', 3)];
  expect(signOutWords(actions, 2)).toBe(
    '1 photo and 1 other thing not sent yet, 1 thing that the office did not take, 2 forms that did not come through. They stay on this phone for you, and are sent or decided when you sign in on it again. Sign out?',
  );
  expect(signOutWords([kept('start', 'conflict', 1)], 0)).toMatch(
    /^1 thing that the office did not take\. They stay/,
  );
  expect(signOutWords([], 1)).toMatch(/^1 form that did not come through\. They stay/);
});

test('nobody is asked where all has come through or was given up', () => {
  expect(signOutWords([kept('photo', 'sent', 1), kept('start', 'dropped', 2)], 0)).toBe('');
});
