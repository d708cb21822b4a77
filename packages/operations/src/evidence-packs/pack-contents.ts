import { createHash } from 'node:crypto';
import type { ZipFile } from '@grainwright/documents';
import {
  canonicalJson,
  inclusionProof,
  type JsonValue,
  manifestText,
  type PackedFile,
  type PackedMedia,
  type PackedSeal,
  type PackManifest,
  packFiles,
  sealedFacts,
} from '@grainwright/domain';
import type { Services } from '../services.ts';
import { type MediaToPack, packAsOf, pictureBytes } from './media-of-pack.ts';
import type { PackRecords } from './pack-records.ts';
import type { PackSigner } from './pack-signer.ts';

export interface PackToMake {
  readonly records: PackRecords;
  readonly signer: PackSigner;
  readonly media: readonly MediaToPack[];
  readonly document: Uint8Array;
}

/** The files of a pack one after the other, the signed list of them last. The same records make the same files. */
export async function* packContents(
  { objects }: Pick<Services, 'objects'>,
  pack: PackToMake,
): AsyncGenerator<ZipFile> {
  const files: PackedFile[] = [];
  const listed = (name: string, bytes: Uint8Array): ZipFile => {
    files.push({ name, bytes: bytes.length, sha256: sha256Of(bytes) });
    return { name, open: () => [bytes] };
  };
  yield listed(packFiles.document, pack.document);
  const media: PackedMedia[] = [];
  for (const each of pack.media) {
    const { file } = each.media;
    let { bareSha256 } = each;
    if (file !== null && each.source !== null) {
      if (each.media.purpose === 'recording') {
        const { key } = each.source;
        const bytes = await objects.size(key);
        files.push({ name: file, bytes: bytes ?? 0, sha256: each.media.originalSha256 });
        yield { name: file, open: () => storedPieces(objects, key) };
      } else {
        const bytes = await pictureBytes(objects, each.source);
        if (bytes === null) throw new Error(`the object store lacks ${each.source.key}`);
        yield listed(file, bytes);
        if (each.source.makesBare) bareSha256 = provedBare(each, sha256Of(bytes));
      }
    }
    media.push({ ...each.media, bareSha256 });
  }
  for (const [name, json] of recordFiles(pack.records)) yield listed(name, asBytes(json));
  const text = manifestText(manifestOf(pack, files, media));
  const { signature } = pack.signer.sign(text);
  yield { name: packFiles.manifest, open: () => [Buffer.from(text, 'utf8')] };
  yield { name: packFiles.signature, open: () => [asBytes({ key: pack.signer.keyId, signature })] };
}

/** What is handed out is exactly what was sealed; for photos from before, it is named for the first time. */
function provedBare({ media, bareSha256 }: MediaToPack, made: string): string {
  if (bareSha256 !== null && bareSha256 !== made)
    throw new Error(`the bare copy of photo ${media.id} is not the one that was sealed`);
  return made;
}

async function* storedPieces(
  objects: Services['objects'],
  key: Parameters<Services['objects']['open']>[0],
): AsyncGenerator<Uint8Array> {
  const found = await objects.open(key);
  if (found === null) throw new Error(`the object store lacks ${key}`);
  yield* found.stream;
}

/** Seals, days and keys, by the names of their files. */
function recordFiles(records: PackRecords): readonly (readonly [string, JsonValue])[] {
  const { seals, keys } = records;
  return [
    ...seals.map(({ number, text, signature, content }): readonly [string, JsonValue] => [
      sealFile(number),
      { text, signature, content },
    ]),
    ...dayFiles(records),
    [
      packFiles.keys,
      {
        keys: keys.map(({ keyId, publicKey, madeAt }) => ({ id: keyId, publicKey, madeAt })),
      },
    ],
  ];
}

function sealFile(number: number): string {
  return `seals/${String(number).padStart(6, '0')}.json`;
}

const laterDaysFile = 'days/later.json';

/** A day with seals of this pack has a file of its own with their proofs; the days between and after are in one. */
function dayFiles({ days, leaves, seals }: PackRecords): readonly (readonly [string, JsonValue])[] {
  const own = days.filter(({ day }) => leaves.has(day));
  const others = days.filter(({ day }) => !leaves.has(day));
  return [
    ...own.map(({ day, text, signature, firstNumber, size }): readonly [string, JsonValue] => {
      const held = seals.filter(({ number }) => firstNumber <= number && number < firstNumber + size);
      const proofs = held.map(({ number }) => ({
        number,
        proof: inclusionProof(leaves.get(day) ?? [], number - firstNumber),
      }));
      return [dayFile(day), { text, signature, proofs }];
    }),
    ...(others.length === 0
      ? []
      : [[laterDaysFile, { days: others.map(({ text, signature }) => ({ text, signature })) }] as const]),
  ];
}

function dayFile(day: string): string {
  return `days/${day}.json`;
}

function manifestOf(
  { records, signer }: PackToMake,
  files: readonly PackedFile[],
  media: readonly PackedMedia[],
): PackManifest {
  const { tenantId, business, account, reader, view, seals, days, leaves } = records;
  return {
    tenant: tenantId,
    business: business.name,
    account: account.name,
    reader,
    workOrder: { id: view.id, number: String(view.number) },
    vehicle: view.vehicle.description,
    asOf: packAsOf(records),
    files,
    media,
    seals: seals.map(packedSeal),
    days: days.map(({ day, sha256 }) => ({
      day,
      file: leaves.has(day) ? dayFile(day) : laterDaysFile,
      sha256,
    })),
    keyId: signer.keyId,
  };
}

function packedSeal({ number, kind, sha256, text, content }: PackRecords['seals'][number]): PackedSeal {
  // A seal’s text is the canonical text of an object.
  const said = JSON.parse(text) as Record<string, JsonValue>;
  return { number, kind, file: sealFile(number), sha256, says: sealedFacts(said, content) };
}

/** Records lie in canonical form as well, so that equal records are equal bytes. */
function asBytes(json: JsonValue): Uint8Array {
  return Buffer.from(canonicalJson(json), 'utf8');
}

function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
