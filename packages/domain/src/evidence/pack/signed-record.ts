import { digestHex } from '../digest.ts';
import { isObject, type JsonObject, listIn, objectIn, parsedJson, textIn } from './read-json.ts';

/** A signed text as it lies in a pack, and what its text says. */
export interface SignedRecord {
  readonly file: string;
  readonly text: string;
  readonly signature: string;
  /** The digest of the text. */
  readonly sha256: string;
  readonly said: JsonObject;
  /** Everything else that lies beside the text in the file. */
  readonly beside: JsonObject;
}

export interface PackSeal extends SignedRecord {
  readonly number: number;
  readonly content: string;
}

export interface PackDay extends SignedRecord {
  readonly day: string;
  readonly firstNumber: number;
  readonly size: number;
  readonly root: string;
  readonly proofs: readonly { readonly number: number; readonly proof: readonly string[] }[];
}

/** Null for what is no signed text. */
export function readSignedRecord(file: string, json: string): SignedRecord | null {
  const found = parsedJson(json) ?? undefined;
  return isObject(found) ? signedRecord(file, found) : null;
}

function signedRecord(file: string, found: JsonObject): SignedRecord | null {
  const { text, signature, ...beside } = found;
  const said = typeof text === 'string' ? parsedJson(text) : null;
  if (typeof text !== 'string' || !isObject(said ?? undefined)) return null;
  return {
    file,
    text,
    signature: textIn(signature),
    sha256: digestHex(text),
    said: objectIn(said ?? undefined),
    beside,
  };
}

export function readPackSeal(file: string, json: string): PackSeal | null {
  const record = readSignedRecord(file, json);
  if (record === null || record.said.format !== 'seal-1') return null;
  const { number } = record.said;
  if (typeof number !== 'number' || !Number.isSafeInteger(number)) return null;
  return { ...record, number, content: textIn(record.beside.content) };
}

/** The days of a file: one with its proofs, or, in the file of the later ones, a list of them. */
export function readPackDays(file: string, json: string): readonly PackDay[] {
  const found = parsedJson(json) ?? undefined;
  if (!isObject(found)) return [];
  const all = Array.isArray(found.days) ? listIn(found.days).map(objectIn) : [found];
  return all.flatMap((each) => {
    const record = signedRecord(file, each);
    return record === null ? [] : packDay(record);
  });
}

function packDay(record: SignedRecord): readonly PackDay[] {
  const { format, day, firstNumber, size, root } = record.said;
  if (format !== 'seal-day-1' || typeof firstNumber !== 'number' || typeof size !== 'number') return [];
  const proofs = listIn(record.beside.proofs)
    .map(objectIn)
    .flatMap(({ number, proof }) =>
      typeof number === 'number' ? [{ number, proof: listIn(proof).map(textIn) }] : [],
    );
  return [{ ...record, day: textIn(day), firstNumber, size, root: textIn(root), proofs }];
}
