import type { PrintedDay, PublicKeys } from './key-trust.ts';
import type { PackManifest } from './manifest.ts';
import { fails, note, type PackCheck } from './pack-check.ts';
import type { PackDay } from './signed-record.ts';

/** What whoever checks holds from elsewhere; empty where they hold nothing. */
export interface PrintedDigests {
  /** The digest or root of a sealed day, as a statement prints it. */
  readonly day: string;
  readonly keyId: string;
}

export const nothingPrinted: PrintedDigests = { day: '', keyId: '' };

export interface ComparedPack {
  /** The day of the pack that the value is of; null where it is of none. */
  readonly day: PrintedDay | null;
  readonly manifest: PackManifest;
  readonly keys: PublicKeys;
  /** What was found besides. */
  readonly others: readonly PackCheck[];
}

/** What the comparison with values from elsewhere says; what fails here says nothing against the pack itself. */
export function checkPrinted(printed: PrintedDigests, pack: ComparedPack): readonly PackCheck[] {
  const [day, keyId] = [asDigest(printed.day), asDigest(printed.keyId)];
  if (day === '' && keyId === '') return [note('printed', nothingComparedWords)];
  return [
    ...(keyId === '' ? [] : [checkKeyId(printed.keyId, pack)]),
    ...(day === '' ? [] : [checkDay(printed.day, pack)]),
  ];
}

const nothingComparedWords =
  'No archive can prove by itself whose key signed it. Compare the digest of a sealed day with one printed on a ' +
  'statement, or the key with the one that the business tells you.';

/** A digest stands for more than a root, and is looked for first. */
export function findPrinted(digest: string, days: readonly PackDay[]): PrintedDay | null {
  if (digest === '') return null;
  const byDigest = days.find(({ sha256 }) => sha256 === digest);
  if (byDigest !== undefined) return { day: byDigest, by: 'digest' };
  const byRoot = days.find(({ root }) => root === digest);
  return byRoot === undefined ? null : { day: byRoot, by: 'root' };
}

/** As people copy it: with spaces, dashes and capitals. */
export function asDigest(typed: string): string {
  return typed.replace(/[\s-]+/g, '').toLowerCase();
}

function isDigest(text: string): boolean {
  return /^[0-9a-f]{64}$/.test(text);
}

/** What was typed, as far as it fits in a sentence. */
function quoted(typed: string): string {
  const text = typed.trim();
  return text.length > 40 ? `“${text.slice(0, 40)}…”` : `“${text}”`;
}

function checkKeyId(typed: string, { manifest }: ComparedPack): PackCheck {
  const id = asDigest(typed);
  if (id === manifest.keyId)
    return { about: 'printed', result: 'holds', sentence: 'It is the key that you compared it with.' };
  if (!isDigest(id))
    return fails(
      'printed',
      `${quoted(typed)} is no key: a key’s name has 64 characters, each 0 to 9 or a to f. Copy it whole.`,
    );
  return fails(
    'printed',
    `The pack is signed by ${manifest.keyId.slice(0, 16)}…, not by the key that you compared it with.`,
  );
}

function checkDay(typed: string, { day: printed, keys, others }: ComparedPack): PackCheck {
  const digest = asDigest(typed);
  if (!isDigest(digest))
    return fails(
      'printed',
      `${quoted(typed)} is no digest: a digest has 64 characters, each 0 to 9 or a to f. Copy what stands behind “Digest of” on the statement, whole.`,
    );
  if (printed === null && keys.has(digest))
    return fails(
      'printed',
      'What you compared is the name of a key, and no digest of a day: put it into the field for the key.',
    );
  if (printed === null)
    return fails(
      'printed',
      'It is not the pack that this value was printed for: the value is of none of the sealed days in this pack. They begin with the day of its first seal and end with the last day before it was made.',
    );
  const { day } = printed.day;
  if (others.some(({ result }) => result === 'fails'))
    return note(
      'printed',
      `The ${printed.by} that you compared it with is that of ${day}, but it does not stand for what fails here.`,
    );
  return {
    about: 'printed',
    result: 'holds',
    sentence:
      printed.by === 'digest'
        ? `The digest that you compared it with is that of ${day}: nothing sealed up to then was changed since it was printed.`
        : `The value that you compared it with is the root of ${day}: the seals of that day were not changed since it was printed. Of the days before it proves nothing: compare the digest that is printed beside it, which proves them too.`,
  };
}
