import type { Day } from '../dates.ts';
import { dayWords } from '../day-words.ts';

/** A sealed day as it is printed on statements: its root, and the digest of its signed text. */
export type LastSealedDay = {
  readonly day: Day;
  readonly root: string;
  readonly sha256: string;
  /**
   * How many of the account's records up to that day are not under it: they wait for their seal, were sealed only later,
   * or can't be sealed. Not counted for statements that were issued before it was.
   */
  readonly unsealed?: number;
};

/**
 * What a statement prints of the newest sealed day: what it is for, the two digests to compare, and where. `publicUrl` is
 * the service’s address.
 */
export function sealedDayWords(
  { day, root, sha256, unsealed }: LastSealedDay,
  publicUrl: string,
): readonly string[] {
  const said = [
    `Below stands what was sealed through ${dayWords(day)}. Keep this statement: the digest shows if anything sealed up to that day was changed since, the root shows it for the seals of that day alone.`,
    ...(unsealed === undefined ? [] : [unsealedWords(unsealed)]),
  ];
  return [
    said.join(' '),
    `Root of ${day}: ${root}`,
    `Digest of ${day}: ${sha256}`,
    `To check an evidence pack, open ${publicUrl}/verify and put the digest, not the root, into the field “Digest of a sealed day”. The root is for comparing with the page Seals of your account, ${publicUrl}/account/seals, which shows both.`,
  ];
}

function unsealedWords(count: number): string {
  if (count === 0) return 'Every approval, signature and credit of yours through that day is among it.';
  const which = count === 1 ? 'One of your approvals' : `${count} of your approvals`;
  const [is, seals] = count === 1 ? ['is', 'its seal'] : ['are', 'their seals'];
  return `${which}, signatures and credits through that day ${is} not among it: ${seals} came later or ${count === 1 ? 'has' : 'have'} not come yet. Ask us why.`;
}
