import { expect, test } from 'vitest';
import { keptThing } from './kept.test-support.ts';
import { sendingWords } from './sending-words.ts';

const file = { bytes: 200, sha256: '0'.repeat(64), mediaType: 'image/jpeg' };
const first = keptThing('photo', 1, { file });
const second = keptThing('photo', 2, { file });

test('only what is on its way is called being sent', () => {
  const online = { actions: [first, second], online: true };
  expect(sendingWords(first, online)).toBe('Kept on this phone. Sending…');
  expect(sendingWords({ ...first, sentBytes: 50 }, online)).toBe('Kept on this phone. Sending… 25 %');
  expect(sendingWords(second, online)).toBe('Kept on this phone. It waits for its turn.');
});

test('without signal each waits, also those that were not tried themselves', () => {
  const tried = { ...first, lastTry: 'No answer came.' };
  for (const kept of [tried, second])
    expect(sendingWords(kept, { actions: [tried, second], online: true })).toBe(
      'Kept on this phone, waiting for signal.',
    );
  expect(sendingWords(first, { actions: [first], online: false })).toBe(
    'Kept on this phone, waiting for signal.',
  );
});
