import { digestHex } from '../digest.ts';
import { isSignedBy, keyIdOf } from '../signed-text.ts';
import type { PackManifest } from './manifest.ts';
import { isObject, objectIn, parsedJson, textIn } from './read-json.ts';
import { liesIn } from './seal-in-day.ts';
import type { PackDay, PackSeal } from './signed-record.ts';

/** Public keys by their ids, 64 hex digits each. */
export type PublicKeys = ReadonlyMap<string, string>;

export interface SignedThings {
  readonly manifest: PackManifest;
  readonly keys: PublicKeys;
  readonly seals: readonly PackSeal[];
  readonly days: readonly PackDay[];
}

/** The sealed day that whoever checks has in print: by the digest of its text, or by the root of its seals alone. */
export interface PrintedDay {
  readonly day: PackDay;
  readonly by: 'digest' | 'root';
}

export interface KeyTrust {
  readonly vouched: ReadonlySet<string>;
  /** Keys that introduced themselves, and those after them: anybody can do that. */
  readonly begunAnew: ReadonlySet<string>;
}

/** The keys that a chain of introductions leads to: from the printed day, or else from the first that the pack has. */
export function keyTrust(things: SignedThings, printed: PrintedDay | null): KeyTrust {
  if (printed !== null) return { vouched: fromPrinted(things, printed), begunAnew: new Set() };
  const vouched = onwards(things, [firstKey(things)]);
  const selfMade = keySeals(things).flatMap(({ signer, introduces }) =>
    signer === introduces ? [introduces] : [],
  );
  const all = onwards(things, [...vouched, ...selfMade]);
  return { vouched, begunAnew: new Set([...all].filter((id) => !vouched.has(id))) };
}

/** Whether the key that a signed text names is there and signed it. */
export function isSigned(record: Pick<PackSeal, 'text' | 'signature' | 'said'>, keys: PublicKeys): boolean {
  const publicKey = keys.get(textIn(record.said.key));
  return publicKey !== undefined && isSignedBy(record, publicKey);
}

/** A seal that is not proved to lie in the first day begins nothing: it may have been put before it by anybody. */
function firstKey({ manifest, seals, days }: SignedThings): string {
  const lowest = seals.toSorted((a, b) => a.number - b.number)[0];
  const [earliest] = days;
  const isFirst = lowest !== undefined && (earliest === undefined || liesIn(lowest, earliest) === true);
  return textIn((isFirst ? lowest : earliest)?.said.key) || manifest.keyId;
}

interface KeySeal {
  readonly seal: PackSeal;
  readonly signer: string;
  readonly introduces: string;
}

/** Seals that introduce a key, signed by the key that they name and over the content that they name. */
function keySeals({ seals, keys }: SignedThings): readonly KeySeal[] {
  return seals
    .filter((seal) => seal.said.kind === 'key' && isSigned(seal, keys))
    .flatMap((seal) => {
      const introduces = introducedBy(seal);
      return introduces === null ? [] : [{ seal, signer: textIn(seal.said.key), introduces }];
    });
}

/** The id of the key that a seal of kind `key` names. */
function introducedBy(seal: PackSeal): string | null {
  const content = parsedJson(seal.content) ?? undefined;
  if (!isObject(content) || digestHex(seal.content) !== seal.said.content) return null;
  const publicKey = textIn(objectIn(content.key).publicKey) || textIn(content.publicKey);
  return /^[0-9a-f]{64}$/.test(publicKey) ? keyIdOf(publicKey) : null;
}

/** These keys, and all that seals signed by one of them introduce. */
function onwards(things: SignedThings, from: readonly string[]): ReadonlySet<string> {
  const known = new Set(from.filter((id) => id !== ''));
  const all = keySeals(things);
  for (let before = -1; before !== known.size; ) {
    before = known.size;
    for (const { signer, introduces } of all) if (known.has(signer)) known.add(introduces);
  }
  return known;
}

/**
 * The digest of a day stands for the day, its key, and the days before it; a root only for the seals under it. What is
 * proved to lie there is of the business, and so are the keys that it names. From those on, introductions count.
 */
function fromPrinted(things: SignedThings, { day, by }: PrintedDay): ReadonlySet<string> {
  const fromRoot = by === 'root' ? onwards(things, keysUnder(things, day)) : new Set<string>();
  const isItsText = by === 'digest' || (fromRoot.has(textIn(day.said.key)) && isSigned(day, things.keys));
  if (!isItsText) return fromRoot;
  const proved = upTo(day, things.days);
  const named = proved.flatMap((each) => [textIn(each.said.key), ...keysUnder(things, each)]);
  return onwards(things, [...fromRoot, ...named]);
}

/** A day and those that it and the ones before it name as the day before. */
function upTo(last: PackDay, days: readonly PackDay[]): readonly PackDay[] {
  const found = [last];
  for (const day of found) {
    const before = days.find(({ sha256 }) => sha256 === day.said.previous);
    if (before !== undefined && !found.includes(before)) found.push(before);
  }
  return found;
}

/** The keys that signed seals which are proved to lie in a day, and those that such seals introduce. */
function keysUnder(things: SignedThings, day: PackDay): readonly string[] {
  const signers = things.seals
    .filter((seal) => isSigned(seal, things.keys) && liesIn(seal, day) === true)
    .map(({ said }) => textIn(said.key));
  const introduced = keySeals(things)
    .filter(({ seal }) => liesIn(seal, day) === true)
    .map(({ introduces }) => introduces);
  return [...signers, ...introduced];
}
