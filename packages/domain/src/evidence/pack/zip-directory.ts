import { ok, type Result, refuse } from '../../result.ts';

/** A file in a ZIP archive, as the archive's directory names it (APPNOTE.TXT 6.3.10, section 4.3.12). */
export interface ZipEntry {
  readonly name: string;
  /** Whether its bytes were packed smaller (“deflate”, method 8) or stand as they are (method 0). */
  readonly deflated: boolean;
  readonly packedBytes: number;
  readonly bytes: number;
  /** Where its local header begins. */
  readonly headerAt: number;
  /** What its local header has to say, from the flags on: sections 4.3.7 and 4.3.12 name the same in the same order. */
  readonly header: Uint8Array;
}

/** Where the directory of an archive lies. */
export interface ZipEnd {
  readonly directoryAt: number;
  readonly directoryBytes: number;
  readonly entryCount: number;
}

/** More than any pack has: the limits keep a file that was made to harm from taking memory or hours. */
export const zipLimits = {
  entries: 5_000,
  directoryBytes: 4_000_000,
  /** How much larger all files together may be than the archive: what a pack holds hardly packs. */
  timesLarger: 12,
  extraBytes: 16_000_000,
} as const;

/** The end record and the longest comment behind it: section 4.3.16. */
export const zipTailBytes = 22 + 0xffff;
const endSignature = 0x06054b50;
const entrySignature = 0x02014b50;
const localSignature = 0x04034b50;
/** Where the flags stand in a local header. */
const flagsAt = 6;
const namesAreUtf8 = 0x0800;

/** Finds the end record, which is the very end, in the last bytes of a file of `fileBytes`. Refuses with `invalid_input`, in plain words. */
export function readZipEnd(tail: Uint8Array, fileBytes: number): Result<ZipEnd> {
  const view = viewOf(tail);
  for (let at = tail.length - 22; at >= 0; at -= 1) {
    if (view.getUint32(at, true) !== endSignature || at + 22 + view.getUint16(at + 20, true) !== tail.length)
      continue;
    if (at + 22 !== tail.length)
      return broken('Something was added behind its end. A pack has nothing there.');
    return endAt(view, at, fileBytes - 22);
  }
  return broken(
    'Its end is missing: it was cut off on its way, or it is no ZIP archive. Download it again, whole.',
  );
}

function endAt(view: DataView, at: number, endPosition: number): Result<ZipEnd> {
  const entryCount = view.getUint16(at + 10, true);
  const directoryBytes = view.getUint32(at + 12, true);
  const directoryAt = view.getUint32(at + 16, true);
  if (view.getUint32(at + 4, true) !== 0 || view.getUint16(at + 8, true) !== entryCount)
    return broken('It is one part of an archive in several parts. A pack is a single file.');
  if (directoryAt === 0xffffffff || entryCount === 0xffff)
    return broken('It is larger than a pack can be (ZIP64).');
  if (entryCount > zipLimits.entries || directoryBytes > zipLimits.directoryBytes)
    return broken(`It names ${entryCount} files, more than a pack has.`);
  if (directoryAt + directoryBytes > endPosition)
    return broken('Its directory points outside of it: it was cut off or damaged.');
  // Other programs take the directory that stands directly before the end record.
  if (directoryAt + directoryBytes < endPosition)
    return broken(
      'Something was put between its directory and its end: other programs would read other files from it.',
    );
  return ok({ directoryAt, directoryBytes, entryCount });
}

/** The files that the directory names. Refuses what no pack has, with a sentence that says it. */
export function readZipDirectory(directory: Uint8Array, end: ZipEnd): Result<readonly ZipEntry[]> {
  const view = viewOf(directory);
  const entries: ZipEntry[] = [];
  let at = 0;
  for (let index = 0; index < end.entryCount; index += 1) {
    if (at + 46 > directory.length || view.getUint32(at, true) !== entrySignature)
      return broken('Its directory can’t be read: it was damaged.');
    const next = at + 46 + view.getUint16(at + 28, true);
    if (next > directory.length) return broken('Its directory can’t be read: it was damaged.');
    const entry = entryAt(directory, view, at);
    if (!entry.ok) return entry;
    entries.push(entry.value);
    at = next;
  }
  if (at !== directory.length || at !== end.directoryBytes)
    return broken('Its directory holds more than the files that it counts.');
  return withinLimits(entries, end.directoryAt);
}

function entryAt(directory: Uint8Array, view: DataView, at: number): Result<ZipEntry> {
  const flags = view.getUint16(at + 8, true);
  const method = view.getUint16(at + 10, true);
  const name = nameOf(directory.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)));
  if (name === null) return broken('The name of a file in it can’t be read, or leads out of the archive.');
  if (view.getUint16(at + 30, true) !== 0 || view.getUint16(at + 32, true) !== 0)
    return broken(`“${name}” has extra fields or a remark in the directory. A pack has none.`);
  if (name.endsWith('/')) return broken(`“${name}” is a folder of its own. A pack has none.`);
  if ((flags & 0x2041) !== 0) return broken(`“${name}” in it is encrypted. A pack never is.`);
  const asciiOnly = /^[\x20-\x7e]*$/.test(name);
  if ((method !== 0 && method !== 8) || (flags !== namesAreUtf8 && !(flags === 0 && asciiOnly)))
    return broken(`“${name}” was packed in a way that a pack never is.`);
  const packedBytes = view.getUint32(at + 20, true);
  const bytes = view.getUint32(at + 24, true);
  const headerAt = view.getUint32(at + 42, true);
  if ([packedBytes, bytes, headerAt].includes(0xffffffff))
    return broken(`“${name}” is larger than a file of a pack can be (ZIP64).`);
  if (method === 0 && packedBytes !== bytes) return broken(`“${name}” names two different lengths.`);
  const header = directory.slice(at + 8, at + 46 + view.getUint16(at + 28, true));
  return ok({ name, deflated: method === 8, packedBytes, bytes, headerAt, header: localOf(header) });
}

/** An entry from its flags on, without what only the directory says: what lies between the lengths and the name. */
function localOf(fromFlags: Uint8Array): Uint8Array {
  return Uint8Array.of(...fromFlags.subarray(0, 24), ...fromFlags.subarray(38));
}

function nameOf(bytes: Uint8Array): string | null {
  try {
    const name = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    const bad = name === '' || name.length > 300 || /^\/|\\|(^|\/)\.\.?(\/|$)|\p{Cc}/u.test(name);
    return bad ? null : name;
  } catch {
    return null;
  }
}

/** The files lie one behind the other up to the directory, with nothing between them, and together they are no bomb. */
function withinLimits(entries: readonly ZipEntry[], directoryAt: number): Result<readonly ZipEntry[]> {
  const total = entries.reduce((sum, entry) => sum + entry.bytes, 0);
  if (total > zipLimits.timesLarger * directoryAt + zipLimits.extraBytes)
    return broken(
      `Unpacked, it would come to ${Math.round(total / 1e6).toLocaleString('en-US')} MB, far more than a file of this size holds. It was not unpacked.`,
    );
  let free = 0;
  for (const entry of entries.toSorted((a, b) => a.headerAt - b.headerAt)) {
    const { name, headerAt, packedBytes } = entry;
    if (headerAt < free) return broken(`“${name}” lies over another file of the archive.`);
    if (headerAt > free)
      return broken(
        `Before “${name}” lies something that its directory does not name. A pack hides nothing.`,
      );
    free = headerAt + localHeaderLength(entry) + packedBytes;
    if (free > directoryAt) return broken(`“${name}” goes on behind its end: the archive was damaged.`);
  }
  if (free < directoryAt)
    return broken('Before its directory lies something that it does not name. A pack hides nothing.');
  const twice = entries.find(({ name }, index) => entries.findIndex((each) => each.name === name) !== index);
  if (twice !== undefined)
    return broken(`It holds “${twice.name}” twice, so that nobody can tell which counts.`);
  return ok(entries);
}

/** The length of an entry's local header with its name: our packs have no extra fields. */
export function localHeaderLength({ header }: ZipEntry): number {
  return flagsAt + header.length;
}

/** Where an entry's bytes begin; null where its own header is none, or says anything else than the directory. */
export function dataStart(header: Uint8Array, entry: ZipEntry): number | null {
  const length = localHeaderLength(entry);
  if (header.length < length || viewOf(header).getUint32(0, true) !== localSignature) return null;
  const same = entry.header.every((byte, index) => header[flagsAt + index] === byte);
  return same ? entry.headerAt + length : null;
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function broken(why: string): ReturnType<typeof refuse> {
  return refuse('invalid_input', `This file can’t be checked. ${why}`, 'file');
}
