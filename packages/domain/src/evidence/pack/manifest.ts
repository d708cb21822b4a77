import { canonicalJson, type JsonValue } from '../canonical-json.ts';
import {
  countIn,
  isObject,
  type JsonObject,
  listIn,
  objectIn,
  parsedJson,
  textIn,
  textOrNull,
} from './read-json.ts';

/** Who a pack was made for: the business has its originals, its customers have copies without positions. */
export type PackReader = 'business' | 'account';

/**
 * What the bytes of a picture in a pack are: as it was taken; the same without what the camera wrote beside it; with
 * parts covered; or not there, and why.
 */
export const packedAs = {
  original: 'as it was taken',
  bare: 'as it was taken, without what the camera wrote beside it',
  covered: 'a copy with parts covered',
  withheld: 'not in this pack; its digest stands for it',
  deleted: 'deleted under a rule of the business; its digest stands for it',
} as const satisfies Record<string, string>;

export type PackedAs = keyof typeof packedAs;

export interface PackedFile {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

/** A picture or a recording. `originalSha256` is what was sealed; digests are SHA-256 in lower-case hex. */
export interface PackedMedia {
  readonly id: string;
  /** What it was taken for: a photo’s purpose, or `recording`. */
  readonly purpose: string;
  readonly line: string | null;
  /** Null where it is not in the pack. */
  readonly file: string | null;
  readonly as: PackedAs;
  readonly originalSha256: string;
  readonly bareSha256: string | null;
  readonly takenAtLocal: string | null;
  readonly receivedAt: string;
}

export interface PackedSeal {
  readonly number: number;
  readonly kind: string;
  readonly file: string;
  /** The digest of the seal’s text. */
  readonly sha256: string;
  /** What the sealed record says, in few words, so that a change can be named. */
  readonly says: readonly SealedFact[];
}

/** “Signer”, “Orrin Vasek”. */
export interface SealedFact {
  readonly name: string;
  readonly value: string;
}

/** What a pack holds, signed by the business’s key: format `evidence-pack-1`. */
export interface PackManifest {
  readonly tenant: string;
  readonly business: string;
  readonly account: string;
  readonly reader: PackReader;
  readonly workOrder: { readonly id: string; readonly number: string };
  readonly vehicle: string;
  /** The moment of the newest thing in it: the same records make the same pack. */
  readonly asOf: string;
  /** Every file but the manifest and its signature. */
  readonly files: readonly PackedFile[];
  readonly media: readonly PackedMedia[];
  /** Of this work order in the order of their numbers, and those that changed the signing key. */
  readonly seals: readonly PackedSeal[];
  /** Sealed days by their files, the earliest first. */
  readonly days: readonly { readonly day: string; readonly file: string; readonly sha256: string }[];
  /** The id of the key that signs it. */
  readonly keyId: string;
}

export const packFiles = {
  manifest: 'manifest.json',
  signature: 'manifest.signature.json',
  document: 'evidence.pdf',
  keys: 'keys.json',
} as const;

/** The manifest’s canonical text (RFC 8785): what its signature is taken over. */
export function manifestText(manifest: PackManifest): string {
  return canonicalJson({
    format: 'evidence-pack-1',
    tenant: manifest.tenant,
    business: manifest.business,
    account: manifest.account,
    for: manifest.reader,
    workOrder: { id: manifest.workOrder.id, number: manifest.workOrder.number },
    vehicle: manifest.vehicle,
    asOf: manifest.asOf,
    files: manifest.files.map(({ name, bytes, sha256 }) => ({ name, bytes, sha256 })),
    media: manifest.media.map(mediaJson),
    seals: manifest.seals.map(({ number, kind, file, sha256, says }) => ({
      number,
      kind,
      file,
      sha256,
      says: says.map(({ name, value }) => ({ name, value })),
    })),
    days: manifest.days.map(({ day, file, sha256 }) => ({ day, file, sha256 })),
    key: manifest.keyId,
  });
}

function mediaJson(media: PackedMedia): JsonValue {
  return {
    id: media.id,
    purpose: media.purpose,
    line: media.line,
    file: media.file,
    as: media.as,
    original: media.originalSha256,
    bare: media.bareSha256,
    takenAtLocal: media.takenAtLocal,
    receivedAt: media.receivedAt,
  };
}

/** Reads a manifest back; null for what is none of this format. */
export function readManifest(text: string): PackManifest | null {
  const found = parsedJson(text);
  if (!isObject(found ?? undefined)) return null;
  const manifest = objectIn(found ?? undefined);
  if (manifest.format !== 'evidence-pack-1') return null;
  const { workOrder, files, media, seals, days } = manifest;
  return {
    tenant: textIn(manifest.tenant),
    business: textIn(manifest.business),
    account: textIn(manifest.account),
    reader: manifest.for === 'business' ? 'business' : 'account',
    workOrder: { id: textIn(objectIn(workOrder).id), number: textIn(objectIn(workOrder).number) },
    vehicle: textIn(manifest.vehicle),
    asOf: textIn(manifest.asOf),
    files: objects(files).map(({ name, bytes, sha256 }) => ({
      name: textIn(name),
      bytes: countIn(bytes),
      sha256: textIn(sha256),
    })),
    media: objects(media).map(readMedia),
    seals: objects(seals).map(({ number, kind, file, sha256, says }) => ({
      number: countIn(number),
      kind: textIn(kind),
      file: textIn(file),
      sha256: textIn(sha256),
      says: objects(says).map(({ name, value }) => ({ name: textIn(name), value: textIn(value) })),
    })),
    days: objects(days).map(({ day, file, sha256 }) => ({
      day: textIn(day),
      file: textIn(file),
      sha256: textIn(sha256),
    })),
    keyId: textIn(manifest.key),
  };
}

function objects(value: JsonValue | undefined): readonly JsonObject[] {
  return listIn(value).map(objectIn);
}

function readMedia(found: JsonObject): PackedMedia {
  const as = Object.keys(packedAs).find((known): known is PackedAs => known === found.as);
  return {
    id: textIn(found.id),
    purpose: textIn(found.purpose),
    line: textOrNull(found.line),
    file: textOrNull(found.file),
    as: as ?? 'withheld',
    originalSha256: textIn(found.original),
    bareSha256: textOrNull(found.bare),
    takenAtLocal: textOrNull(found.takenAtLocal),
    receivedAt: textIn(found.receivedAt),
  };
}
