import { expect, test } from 'vitest';
import { snapshotDue } from './snapshot-due.ts';

const askedAt = '2026-08-05T15:00:00.000Z';
const kept = { askedAt, changes: 3 };
const at = (seconds: number) => Date.parse(askedAt) + seconds * 1000;

test('the day is taken along where there is none, and again after two minutes; not on every page between', () => {
  expect(snapshotDue({ kept: null, changes: 0, now: at(0) })).toBe(true);
  for (const seconds of [0, 1, 60, 120])
    expect(snapshotDue({ kept, changes: 3, now: at(seconds) })).toBe(false);
  expect(snapshotDue({ kept, changes: 3, now: at(121) })).toBe(true);
});

test('a change that the phone knows of makes it due at once, whatever the clock says', () => {
  expect(snapshotDue({ kept, changes: 4, now: at(0) })).toBe(true);
  // Kept by an earlier version of the app, which did not count.
  expect(snapshotDue({ kept: { askedAt, changes: -1 }, changes: 0, now: at(0) })).toBe(true);
});

test('a clock that was put back, and a time that can’t be read, make it due', () => {
  expect(snapshotDue({ kept, changes: 3, now: at(-1) })).toBe(true);
  expect(snapshotDue({ kept: { askedAt: 'yesterday', changes: 3 }, changes: 3, now: at(0) })).toBe(true);
});
