import type { Day } from '../dates.ts';
import { dayWords } from '../day-words.ts';

/** A sealed day as it is printed on statements: its root, and the digest of its signed text. */
export type LastSealedDay = { readonly day: Day; readonly root: string; readonly sha256: string };

/** What a statement prints of the newest sealed day: what it is for, and the two digests to compare. */
export function sealedDayWords({ day, root, sha256 }: LastSealedDay): readonly string[] {
  return [
    `Approvals, signatures and credits through ${dayWords(day)} are sealed. Keep this statement: the two values below show if anything sealed up to that day was changed since.`,
    `Root of ${day}: ${root}`,
    `Digest of ${day}: ${sha256}`,
  ];
}
