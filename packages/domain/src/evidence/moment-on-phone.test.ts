import { expect, test } from 'vitest';
import { instant } from '../dates.ts';
import { answeredOnDevice, madeOnPhone } from './moment-on-phone.ts';

const now = instant('2026-08-05T17:00:00Z');

test.each([
  ['hours ago', '2026-08-05T13:10:00Z', '2026-08-05T13:10:00Z'],
  ['fourteen days ago', '2026-07-22T17:00:00Z', '2026-07-22T17:00:00Z'],
  ['longer ago', '2026-07-22T16:59:59Z', null],
  ['a clock a quarter of an hour fast', '2026-08-05T17:15:00Z', '2026-08-05T17:00:00Z'],
  ['still to come', '2026-08-05T17:15:01Z', null],
])('what a phone says of when it was made, %s', (_, said, taken) => {
  expect(madeOnPhone(instant(said), now)).toBe(taken);
});

test('what was sent at once says nothing of the phone’s clock', () => {
  expect(madeOnPhone(null, now)).toBeNull();
});

test.each([
  ['after the finish', '2026-08-05T13:10:00Z', null],
  ['by a clock that is a little slow', '2026-08-05T12:45:00Z', null],
  ['before it', '2026-08-05T12:44:59Z', 'before_finish'],
  ['still to come', '2026-08-05T17:15:01Z', 'in_future'],
])('an answer signed %s', (_, said, doubt) => {
  const finishedAt = instant('2026-08-05T13:00:00Z');
  const at = doubt === null ? said : null;
  expect(answeredOnDevice(instant(said), { now, finishedAt })).toEqual({ at, doubt });
});
