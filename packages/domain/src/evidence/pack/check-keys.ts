import { keyIdOf } from '../signed-text.ts';
import { keyTrust, type PrintedDay, type PublicKeys, type SignedThings } from './key-trust.ts';
import { fails, note, orHolds, type PackCheck } from './pack-check.ts';
import { listIn, objectIn, parsedJson, textIn } from './read-json.ts';

/** The keys of a pack whose ids are theirs, and what is wrong with the others. */
export function readKeys(json: string): { readonly keys: PublicKeys; readonly faults: readonly PackCheck[] } {
  const found = objectIn(parsedJson(json) ?? undefined);
  const listed = listIn(found.keys).map(objectIn);
  const faults: PackCheck[] = [];
  const keys = new Map<string, string>();
  for (const each of listed) {
    const [id, publicKey] = [textIn(each.id), textIn(each.publicKey)];
    if (/^[0-9a-f]{64}$/.test(publicKey) && keyIdOf(publicKey) === id) keys.set(id, publicKey);
    else
      faults.push(
        fails('keys', `The public key named ${short(id)} was replaced: another key stands under its name.`),
      );
  }
  return { keys, faults };
}

export interface KeysInUse extends SignedThings {
  /** Null where whoever checks has none in print, or one that is not in the pack. */
  readonly printed: PrintedDay | null;
}

/**
 * Whether every key that signed something here belongs to the same business: the first one began the seals, every
 * later one was introduced by a seal of a key before it. A key that introduced itself is told, since anybody can do
 * that. Against a printed day only keys count that this day leads to.
 */
export function checkKeys(input: KeysInUse): readonly PackCheck[] {
  const { manifest, keys, printed } = input;
  const used = usedKeys(input);
  const alone = keyTrust(input, null);
  const known = keyTrust(input, printed);
  const strangers = used.filter((id) => !known.vouched.has(id) && !known.begunAnew.has(id));
  const unknown = used.filter((id) => !keys.has(id));
  const isStrange = (id: string) => !alone.vouched.has(id) && !alone.begunAnew.has(id);
  const found = [
    ...unknown.map((id) => fails('keys', `The public key ${short(id)} that signed here is not in the pack.`)),
    ...strangers
      .filter((id) => keys.has(id) && isStrange(id))
      .map((id) => fails('keys', strangerWords(id, printed))),
    ...used.filter((id) => known.begunAnew.has(id)).map((id) => note('keys', selfMadeWords(id))),
  ];
  const unproved = strangers.filter((id) => keys.has(id) && !isStrange(id));
  return [
    ...orHolds(
      'keys',
      found,
      `All signatures are by keys that belong together; this pack is signed by the key ${manifest.keyId}.`,
    ),
    // Nothing of the pack itself is wrong with these: what was printed does not lead to them.
    ...unproved.map((id) => fails('printed', strangerWords(id, printed))),
  ];
}

function usedKeys({ manifest, seals, days }: KeysInUse): readonly string[] {
  const signed = [...seals, ...days].map(({ said }) => textIn(said.key));
  return [...new Set([...signed, manifest.keyId])].filter((id) => id !== '');
}

function strangerWords(id: string, printed: PrintedDay | null): string {
  if (printed === null)
    return `The key ${short(id)} signed here, but no seal of the business introduces it: somebody else signed.`;
  const { day, by } = printed;
  return by === 'digest'
    ? `The key ${short(id)} signed here, but nothing leads to it from ${day.day}, the sealed day that you compared with: somebody else signed, or the business began its keys anew since. Compare with a later day, from the business itself.`
    : `The key ${short(id)} signed here, but nothing under the root of ${day.day} leads to it: a root stands for the seals of its own day, and tells nothing of this pack. Compare the digest that is printed beside it, which also proves what was before.`;
}

function selfMadeWords(id: string): string {
  return `The key ${short(id)} was begun anew and only vouches for itself. Ask the business whether it is theirs, and since when.`;
}

function short(id: string): string {
  return id === '' ? 'without a name' : `${id.slice(0, 16)}…`;
}
