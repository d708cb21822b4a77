import { expect, test } from 'vitest';
import { day, instant } from '../dates.ts';
import { sealMoment } from './seal-moment.ts';

const zone = 'America/Chicago';
const now = instant('2026-08-05T14:00:00Z');

test('a seal is put now', () => {
  const before = { lastSealedAt: instant('2026-08-05T13:59:59Z'), closedThrough: day('2026-08-04') };
  expect(sealMoment(now, before, zone)).toBe(now);
  expect(sealMoment(now, { lastSealedAt: null, closedThrough: null }, zone)).toBe(now);
});

test('a clock that was set back stands still until it has caught up with the seal before', () => {
  const lastSealedAt = instant('2026-08-05T14:00:00.001Z');
  expect(sealMoment(now, { lastSealedAt, closedThrough: null }, zone)).toBe(lastSealedAt);
});

test('nothing comes into a day that is closed: it goes into the first moment of the next, in the business’s own time', () => {
  const before = { lastSealedAt: instant('2026-08-05T13:00:00Z'), closedThrough: day('2026-08-05') };
  expect(sealMoment(now, before, zone)).toBe('2026-08-06T05:00:00Z');
});
