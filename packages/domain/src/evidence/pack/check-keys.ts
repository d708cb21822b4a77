import { isSignedBy, keyIdOf } from '../signed-text.ts';
import type { PackManifest } from './manifest.ts';
import { fails, note, orHolds, type PackCheck } from './pack-check.ts';
import { isObject, listIn, objectIn, parsedJson, textIn } from './read-json.ts';
import type { PackDay, PackSeal } from './signed-record.ts';

/** Public keys by their ids, 64 hex digits each. */
export type PublicKeys = ReadonlyMap<string, string>;

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

export interface KeysInUse {
  readonly manifest: PackManifest;
  readonly keys: PublicKeys;
  readonly seals: readonly PackSeal[];
  readonly days: readonly PackDay[];
  /** The id of the business’s key, as whoever checks has it from elsewhere; empty where they have none. */
  readonly expectedKeyId: string;
}

/**
 * Whether every key that signed something here belongs to the same business: the first one began the seals, every
 * later one was introduced by a seal of a key before it. A key that introduced itself is told, since anybody can do that.
 */
export function checkKeys(input: KeysInUse): readonly PackCheck[] {
  const { manifest, keys, expectedKeyId } = input;
  const used = usedKeys(input);
  const known = introducedKeys(input);
  const strangers = used.filter((id) => !known.vouched.has(id) && !known.selfMade.has(id));
  const unknown = used.filter((id) => !keys.has(id));
  const found = [
    ...unknown.map((id) => fails('keys', `The public key ${short(id)} that signed here is not in the pack.`)),
    ...strangers
      .filter((id) => keys.has(id))
      .map((id) =>
        fails(
          'keys',
          `The key ${short(id)} signed here, but no seal of the business introduces it: somebody else signed.`,
        ),
      ),
    ...used.filter((id) => known.selfMade.has(id)).map((id) => note('keys', selfMadeWords(id))),
    ...expected(expectedKeyId, manifest.keyId),
  ];
  return orHolds(
    'keys',
    found,
    `All signatures are by keys that belong together; this pack is signed by the key ${manifest.keyId}.`,
  );
}

function usedKeys({ manifest, seals, days }: KeysInUse): readonly string[] {
  const signed = [...seals, ...days].map(({ said }) => textIn(said.key));
  return [...new Set([...signed, manifest.keyId])].filter((id) => id !== '');
}

interface Introduced {
  readonly vouched: ReadonlySet<string>;
  readonly selfMade: ReadonlySet<string>;
}

function introducedKeys({ manifest, keys, seals, days }: KeysInUse): Introduced {
  const inOrder = seals.toSorted((a, b) => a.number - b.number);
  const first = textIn((inOrder[0] ?? days[0])?.said.key);
  const vouched = new Set([first === '' ? manifest.keyId : first]);
  const selfMade = new Set<string>();
  for (const seal of inOrder.filter(({ said }) => said.kind === 'key')) {
    const signer = textIn(seal.said.key);
    const introduced = introducedBy(seal);
    if (introduced === null || !isSigned(seal, keys)) continue;
    if (signer !== introduced && vouched.has(signer)) vouched.add(introduced);
    else if (signer === introduced && !vouched.has(introduced)) selfMade.add(introduced);
  }
  return { vouched, selfMade };
}

/** The id of the key that a seal of kind `key` names. */
function introducedBy(seal: PackSeal): string | null {
  const content = parsedJson(seal.content) ?? undefined;
  if (!isObject(content)) return null;
  const publicKey = textIn(objectIn(content.key).publicKey) || textIn(content.publicKey);
  return /^[0-9a-f]{64}$/.test(publicKey) ? keyIdOf(publicKey) : null;
}

/** Whether the key that a signed text names is there and signed it. */
export function isSigned(record: Pick<PackSeal, 'text' | 'signature' | 'said'>, keys: PublicKeys): boolean {
  const publicKey = keys.get(textIn(record.said.key));
  return publicKey !== undefined && isSignedBy(record, publicKey);
}

function expected(expectedKeyId: string, keyId: string): readonly PackCheck[] {
  if (expectedKeyId === '') return [];
  if (expectedKeyId === keyId)
    return [{ about: 'keys', result: 'holds', sentence: 'It is the key that you compared it with.' }];
  return [fails('keys', `The pack is signed by ${short(keyId)}, not by the key that you compared it with.`)];
}

function selfMadeWords(id: string): string {
  return `The key ${short(id)} was begun anew and only vouches for itself. Ask the business whether it is theirs, and since when.`;
}

function short(id: string): string {
  return id === '' ? 'without a name' : `${id.slice(0, 16)}…`;
}
