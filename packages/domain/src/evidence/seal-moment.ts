import { type Day, endOfDay, type Instant, isBefore } from '../dates.ts';

/**
 * When the next seal is put: now, but never before the seal that it follows, nor on a day that is closed already. A
 * clock that was set back moves on from there until it has caught up.
 */
export function sealMoment(
  now: Instant,
  before: { readonly lastSealedAt: Instant | null; readonly closedThrough: Day | null },
  timeZone: string,
): Instant {
  const bounds = [
    before.lastSealedAt,
    before.closedThrough === null ? null : endOfDay(before.closedThrough, timeZone),
  ];
  return bounds.reduce<Instant>((at, bound) => (bound !== null && isBefore(at, bound) ? bound : at), now);
}
