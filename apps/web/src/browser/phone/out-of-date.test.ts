import { expect, test } from 'vitest';
import { keptThing } from './kept.test-support.ts';
import { isOutOfDate } from './out-of-date.ts';

const workOrderId = '01990000-0000-7000-8000-000000000001';
const page = `/field/work-orders/${workOrderId}`;
const own = keptThing('photo', 1, { workOrderId });
const other = keptThing('photo', 2);
const sent = <T extends object>(kept: T) => ({ ...kept, state: 'sent' as const });
const refused = { ...other, state: 'conflict' as const };

test('today is shown anew once all that can go out has gone out', () => {
  const looked = { path: '/field', before: [own, other], held: [] };
  expect(isOutOfDate({ ...looked, now: [own, other] })).toBe(false);
  expect(isOutOfDate({ ...looked, now: [sent(own), other] })).toBe(false);
  expect(isOutOfDate({ ...looked, now: [sent(own), sent(other)] })).toBe(true);
  expect(isOutOfDate({ ...looked, now: [sent(own), other], held: [other] })).toBe(true);
  expect(isOutOfDate({ ...looked, now: [sent(own), refused] })).toBe(true);
});

test('a work order is shown anew once all of it has come through, whatever waits of others', () => {
  const looked = { path: page, before: [own, other], held: [] };
  expect(isOutOfDate({ ...looked, now: [own, sent(other)] })).toBe(false);
  expect(isOutOfDate({ ...looked, now: [sent(own), other] })).toBe(true);
});

test('what had come through before the page was shown is on it already', () => {
  const now = [sent(own), sent(other)];
  for (const path of ['/field', page]) expect(isOutOfDate({ path, before: now, now, held: [] })).toBe(false);
});

test('a page that is filled in is not shown anew', () => {
  const looked = { before: [own], now: [sent(own)], held: [] };
  for (const path of [`${page}/finish`, '/field/write-up', '/field/phone/waiting'])
    expect(isOutOfDate({ ...looked, path })).toBe(false);
});
