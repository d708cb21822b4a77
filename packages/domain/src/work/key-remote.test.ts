import { expect, test } from 'vitest';
import { checkKeySheet, isKeyRemote, type KeySheet, keyMeaning, keyVerdict } from './key-remote.ts';

// Common practice, no source: battery; the coating under the buttons; then each function by closing its contacts by hand.
const allPass: KeySheet = {
  battery: 'pass',
  coating: 'pass',
  lock: 'pass',
  unlock: 'pass',
  trunk: 'pass',
  horn: 'pass',
};

test('a key whose tests all pass may get its case', () => {
  expect(keyVerdict(allPass)).toBe('passed');
  expect(keyVerdict({ ...allPass, trunk: 'not_fitted', horn: 'not_fitted' })).toBe('passed');
});

test.each(['battery', 'coating', 'lock', 'unlock', 'trunk', 'horn'] as const)(
  'a failed %s fails the key',
  (step) => {
    expect(keyVerdict({ ...allPass, [step]: 'fail' })).toBe('failed');
  },
);

test('a key that is not tested through has not passed, nor one that no function was tried on', () => {
  expect(keyVerdict({ ...allPass, horn: null })).toBe('unfinished');
  const nothing = {
    lock: 'not_fitted',
    unlock: 'not_fitted',
    trunk: 'not_fitted',
    horn: 'not_fitted',
  } as const;
  expect(keyVerdict({ ...allPass, ...nothing })).toBe('unfinished');
});

test('the tests are made in order', () => {
  const none: KeySheet = { battery: null, coating: null, lock: null, unlock: null, trunk: null, horn: null };
  expect(checkKeySheet(none)).toMatchObject({ ok: false, problem: { field: 'battery' } });
  expect(checkKeySheet({ ...none, battery: 'fail' })).toMatchObject({ ok: true });
  expect(checkKeySheet({ ...none, battery: 'pass', lock: 'pass' })).toMatchObject({
    ok: false,
    problem: { field: 'coating' },
  });
  expect(checkKeySheet({ ...allPass, lock: null })).toMatchObject({ ok: false, problem: { field: 'lock' } });
});

test('every key has a battery and a coating', () => {
  expect(checkKeySheet({ ...allPass, battery: 'not_fitted' })).toMatchObject({ ok: false });
  expect(checkKeySheet({ ...allPass, coating: 'not_fitted' })).toMatchObject({ ok: false });
});

test('each result says what it means, and one that is not there means nothing', () => {
  expect(keyMeaning('battery', 'fail')).toContain('fresh battery');
  expect(keyMeaning('lock', 'fail')).toContain('Sell no case');
  expect(keyMeaning('lock', 'pass')).toBe('The electronics answer.');
  expect(keyMeaning('horn', 'not_fitted')).toBeNull();
  expect(keyMeaning('horn', null)).toBeNull();
});

test('a key remote is told by its part or by the kind of repair', () => {
  expect(isKeyRemote({ part: 'key_remote', family: '' })).toBe(true);
  expect(isKeyRemote({ part: 'other', family: 'Key remote' })).toBe(true);
  expect(isKeyRemote({ part: 'carpet', family: 'Carpet' })).toBe(false);
});
