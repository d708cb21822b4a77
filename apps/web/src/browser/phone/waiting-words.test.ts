import { expect, test } from 'vitest';
import { keptThing } from './kept.test-support.ts';
import { signOutWords } from './waiting-words.ts';

test('who signs out is asked about all that the office has not: what waits, what it did not take, and forms', () => {
  const actions = [
    keptThing('photo', 1),
    keptThing('start', 2),
    keptThing('start', 3, { state: 'conflict' }),
  ];
  expect(signOutWords(actions, 2)).toBe(
    '1 photo and 1 other thing not sent yet, 1 thing that the office did not take, 2 forms that did not come through. They stay on this phone for you, and are sent or decided when you sign in on it again. Sign out?',
  );
  expect(signOutWords([keptThing('start', 1, { state: 'conflict' })], 0)).toMatch(
    /^1 thing that the office did not take\. They stay/,
  );
  expect(signOutWords([], 1)).toMatch(/^1 form that did not come through\. They stay/);
});

test('nobody is asked where all has come through or was given up', () => {
  expect(
    signOutWords([keptThing('photo', 1, { state: 'sent' }), keptThing('start', 2, { state: 'dropped' })], 0),
  ).toBe('');
});
