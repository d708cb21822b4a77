import { expect, test } from 'vitest';
import { type BannerFacts, bannerOf } from './banner.ts';
import { keptThing } from './kept.test-support.ts';

const photo = keptThing('photo', 1);
const start = keptThing('start', 2);
const refused = keptThing('start', 3, { state: 'conflict' });

function said(facts: Partial<BannerFacts>): string {
  const banner = bannerOf({
    ...{ actions: [], held: [], reached: null, online: true, signedOut: false, sending: false },
    ...facts,
  });
  return (banner?.toString() ?? '')
    .replaceAll(/<[^>]+>/g, '')
    .replaceAll(/\s+/g, ' ')
    .trim();
}

test.each<readonly [string, Partial<BannerFacts>]>([
  ['', {}],
  ['', { reached: true, sending: true }],
  ['', { actions: [keptThing('photo', 1, { state: 'sent' })], reached: true }],
  ['No signal. What you do is kept on this phone.', { online: false }],
  [
    'No signal: kept on this phone. 1 photo waiting for signal. What waits',
    { actions: [photo], online: false },
  ],
  // The browser believes that there is signal, and tries.
  [
    'No signal: kept on this phone. 1 photo waiting for signal. What waits',
    { actions: [photo], reached: false, sending: true },
  ],
  // It came back, and nothing has been tried yet.
  ['1 photo waiting to be sent. What waits', { actions: [photo] }],
  ['1 photo being sent. What waits', { actions: [photo], sending: true }],
  ['1 photo being sent. What waits', { actions: [photo], sending: true, reached: true }],
  [
    '1 photo kept here. Sign in again to send. What waits',
    { actions: [photo], signedOut: true, reached: true },
  ],
  ['1 thing was not taken. Decide', { actions: [refused], reached: true }],
  [
    '1 thing was not taken. 1 thing kept here until you decide. Decide',
    { actions: [refused, start], held: [start], reached: true, sending: true },
  ],
  [
    '1 photo being sent. What waits 1 thing was not taken. 1 thing kept here until you decide. Decide',
    { actions: [refused, start, photo], held: [start], reached: true, sending: true },
  ],
  ['1 thing kept here until you decide. Decide', { actions: [start], held: [start], reached: true }],
])('the top of the page says what is so: %s', (words, facts) => {
  expect(said(facts)).toBe(words);
});
