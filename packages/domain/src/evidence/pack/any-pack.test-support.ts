import { canonicalJson, type JsonValue } from '../canonical-json.ts';
import { digestHex } from '../digest.ts';
import { inclusionProof, merkleRoot } from '../merkle-tree.ts';
import { sealLeafHash } from '../seal.ts';
import { keyIdOf, publicKeyOf, signText } from '../signed-text.ts';
import { manifestText, packFiles } from './manifest.ts';
import type { ArchivedFile } from './read-archive.ts';
import { sealedFacts } from './sealed-facts.ts';

/** A key pair, made from a number. */
export function aKey(number: number) {
  const secret = new Uint8Array(32).fill(number);
  return { secret, publicKey: publicKeyOf(secret), id: keyIdOf(publicKeyOf(secret)) };
}

type Key = ReturnType<typeof aKey>;

export interface MadeSeal {
  readonly by: Key;
  readonly on: string;
  /** The key that it introduces; an approval without one. */
  readonly introduces?: Key;
  /** By whoever has the key: this one is signed anew with another date, and the seals after it stay as they were. */
  readonly rewrittenTo?: string;
  /** In its day, but not in the pack. */
  readonly leftOut?: boolean;
}

export interface MadeDay {
  readonly by: Key;
  readonly day: string;
  /** Its first seal, counted from 1, and how many it has. */
  readonly first: number;
  readonly size: number;
}

/** The files of a pack of seals numbered from 1, with these days, as `by` signs it; and the digests of its days. */
export function aPack(by: Key, seals: readonly MadeSeal[], days: readonly MadeDay[]) {
  const all = sealed(seals);
  const put = all.filter((_, index) => seals[index]?.leftOut !== true);
  const closed = closedDays(all, days);
  const pairs = [by, ...seals.map((seal) => seal.by), ...days.map((day) => day.by)];
  const keys = [...new Map(pairs.map((key) => [key.id, key])).values()];
  const records: readonly (readonly [string, JsonValue])[] = [
    ...put.map(({ file, text, signature, content }) => [file, { text, signature, content }] as const),
    ...closed.map(({ file, json }) => [file, json] as const),
    [packFiles.keys, { keys: keys.map(({ id, publicKey }) => ({ id, publicKey })) }],
  ];
  const files = records.map(([name, json]) => aFile(name, canonicalJson(json)));
  const text = manifestText({
    tenant,
    business: 'Quillfeather Interior Repair',
    account: 'Brackwater Glass & Screen',
    reader: 'account',
    workOrder: { id: workOrder, number: '1001' },
    vehicle: 'a van',
    asOf: '2026-08-05T14:00:00Z',
    files: files.map(({ name, bytes, sha256 }) => ({ name, bytes, sha256 })),
    media: [],
    seals: put.map(({ number, kind, file, text: of, said, content }) => ({
      number,
      kind,
      file,
      sha256: digestHex(of),
      says: sealedFacts(said, content),
    })),
    days: closed.map(({ day, file, sha256 }) => ({ day, file, sha256 })),
    keyId: by.id,
  });
  const { signature } = signText(text, by.secret);
  return {
    archived: [
      ...files,
      aFile(packFiles.manifest, text),
      aFile(packFiles.signature, canonicalJson({ key: by.id, signature })),
    ],
    digests: closed.map(({ sha256 }) => sha256),
    roots: closed.map(({ root }) => root),
  };
}

const tenant = '0198a000-0000-7000-8000-000000000001';
const workOrder = '0198a000-0000-7000-8000-000000000002';

function aFile(name: string, text: string): ArchivedFile {
  return { name, bytes: Buffer.byteLength(text), sha256: digestHex(text), text };
}

function sealed(seals: readonly MadeSeal[]) {
  let previous: string | null = null;
  return seals.map(({ by, on, introduces, rewrittenTo }, index) => {
    const number = index + 1;
    const kind = introduces === undefined ? 'approval' : 'key';
    const content: string = canonicalJson(
      introduces === undefined
        ? { format: 'sealed-approval-1' }
        : { format: 'sealed-key-1', key: { id: introduces.id, publicKey: introduces.publicKey } },
    );
    const at = `${on}T14:00:00Z`;
    const genuine = {
      format: 'seal-1',
      tenant,
      number,
      previous,
      kind,
      subject: workOrder,
      workOrder: kind === 'key' ? null : workOrder,
      happenedAt: at,
      sealedAt: at,
      content: digestHex(content),
      key: by.id,
    };
    previous = digestHex(canonicalJson(genuine));
    const said = rewrittenTo === undefined ? genuine : { ...genuine, happenedAt: rewrittenTo };
    const text: string = canonicalJson(said);
    return { ...signText(text, by.secret), number, kind, file: `seals/00000${number}.json`, said, content };
  });
}

function closedDays(put: ReturnType<typeof sealed>, days: readonly MadeDay[]) {
  let previous: string | null = null;
  return days.map(({ by, day, first, size }) => {
    const leaves = put.slice(first - 1, first - 1 + size).map(({ text }) => sealLeafHash(text));
    const root = merkleRoot(leaves);
    const text: string = canonicalJson({
      format: 'seal-day-1',
      tenant,
      day,
      firstNumber: first,
      size,
      root,
      previous,
      audit: null,
      key: by.id,
    });
    previous = digestHex(text);
    const proofs = leaves.map((_, index) => ({
      number: first + index,
      proof: inclusionProof(leaves, index),
    }));
    const file = `days/${day}.json`;
    return { day, file, root, sha256: previous, json: { ...signText(text, by.secret), proofs } };
  });
}
