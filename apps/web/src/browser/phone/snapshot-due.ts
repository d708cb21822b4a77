import type { Taken } from './refresh-snapshot.ts';

/** What was taken along at a moment by this phone's clock, and how often the phone has known of a change. */
export interface SnapshotFacts {
  readonly kept: Pick<Taken, 'askedAt' | 'changes'> | null;
  /** As the store counts them now. */
  readonly changes: number;
  /** In milliseconds. */
  readonly now: number;
}

const freshMilliseconds = 120_000;

/**
 * Whether the day is to be taken along anew: there is none yet, it is older than two minutes, or something has changed
 * since it was asked for: a form was sent, all that waited came through, news told of something, somebody signed in.
 */
export function snapshotDue({ kept, changes, now }: SnapshotFacts): boolean {
  if (kept === null || kept.changes !== changes) return true;
  const age = now - Date.parse(kept.askedAt);
  // A clock that was put back says nothing of the age.
  return !(age >= 0 && age <= freshMilliseconds);
}
