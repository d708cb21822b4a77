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
export const localHeaderBytes = 30;

/** Finds the end record in the last bytes of a file of `fileBytes`. Refuses with `invalid_input`, in plain words. */
export function readZipEnd(tail: Uint8Array, fileBytes: number): Result<ZipEnd> {
  const view = viewOf(tail);
  for (let at = tail.length - 22; at >= 0; at -= 1) {
    if (view.getUint32(at, true) !== endSignature || at + 22 + view.getUint16(at + 20, true) !== tail.length)
      continue;
    return endAt(view, at, fileBytes - tail.length + at);
  }
  return broken(
    'Its end is missing: it was cut off on its way, or it is no ZIP archive. Download it again, whole.',
  );
}

function endAt(view: DataView, at: number, endPosition: number): Result<ZipEnd> {
  const entryCount = view.getUint16(at + 10, true);
  const directoryBytes = view.getUint32(at + 12, true);
  const directoryAt = view.getUint32(at + 16, true);
  if (view.getUint16(at + 4, true) !== 0 || view.getUint16(at + 8, true) !== entryCount)
    return broken('It is one part of an archive in several parts. A pack is a single file.');
  if (directoryAt === 0xffffffff || entryCount === 0xffff)
    return broken('It is larger than a pack can be (ZIP64).');
  if (entryCount > zipLimits.entries || directoryBytes > zipLimits.directoryBytes)
    return broken(`It names ${entryCount} files, more than a pack has.`);
  if (directoryAt + directoryBytes > endPosition)
    return broken('Its directory points outside of it: it was cut off or damaged.');
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
    const next =
      at + 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + commentOf(view, at);
    if (next > directory.length) return broken('Its directory can’t be read: it was damaged.');
    const entry = entryAt(directory, view, at);
    if (!entry.ok) return entry;
    if (!entry.value.name.endsWith('/') || entry.value.bytes > 0) entries.push(entry.value);
    at = next;
  }
  return withinLimits(entries, end.directoryAt);
}

function commentOf(view: DataView, at: number): number {
  return view.getUint16(at + 32, true);
}

function entryAt(directory: Uint8Array, view: DataView, at: number): Result<ZipEntry> {
  const flags = view.getUint16(at + 8, true);
  const method = view.getUint16(at + 10, true);
  const name = nameOf(directory.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)));
  if (name === null) return broken('The name of a file in it can’t be read, or leads out of the archive.');
  if ((flags & 0x2041) !== 0) return broken(`“${name}” in it is encrypted. A pack never is.`);
  if (method !== 0 && method !== 8) return broken(`“${name}” was packed in a way that a pack never is.`);
  const packedBytes = view.getUint32(at + 20, true);
  const bytes = view.getUint32(at + 24, true);
  const headerAt = view.getUint32(at + 42, true);
  if ([packedBytes, bytes, headerAt].includes(0xffffffff))
    return broken(`“${name}” is larger than a file of a pack can be (ZIP64).`);
  if (method === 0 && packedBytes !== bytes) return broken(`“${name}” names two different lengths.`);
  return ok({ name, deflated: method === 8, packedBytes, bytes, headerAt });
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

/** No two files share bytes, all lie before the directory, and together they are no bomb. */
function withinLimits(entries: readonly ZipEntry[], directoryAt: number): Result<readonly ZipEntry[]> {
  const total = entries.reduce((sum, entry) => sum + entry.bytes, 0);
  if (total > zipLimits.timesLarger * directoryAt + zipLimits.extraBytes)
    return broken(
      `Unpacked, it would come to ${Math.round(total / 1e6).toLocaleString('en-US')} MB, far more than a file of this size holds. It was not unpacked.`,
    );
  let free = 0;
  for (const { name, headerAt, packedBytes } of entries.toSorted((a, b) => a.headerAt - b.headerAt)) {
    if (headerAt < free) return broken(`“${name}” lies over another file of the archive.`);
    free = headerAt + localHeaderBytes + packedBytes;
    if (free > directoryAt) return broken(`“${name}” goes on behind its end: the archive was damaged.`);
  }
  const twice = entries.find(({ name }, index) => entries.findIndex((each) => each.name === name) !== index);
  if (twice !== undefined)
    return broken(`It holds “${twice.name}” twice, so that nobody can tell which counts.`);
  return ok(entries);
}

/** Where an entry's bytes begin, by its own header; null where that header is none or names another file. */
export function dataStart(header: Uint8Array, entry: ZipEntry): number | null {
  const view = viewOf(header);
  if (header.length < localHeaderBytes || view.getUint32(0, true) !== localSignature) return null;
  const method = view.getUint16(8, true);
  if (method !== (entry.deflated ? 8 : 0)) return null;
  const nameBytes = view.getUint16(26, true);
  const name = nameOf(header.subarray(localHeaderBytes, localHeaderBytes + nameBytes));
  if (name !== entry.name) return null;
  return entry.headerAt + localHeaderBytes + nameBytes + view.getUint16(28, true);
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function broken(why: string): ReturnType<typeof refuse> {
  return refuse('invalid_input', `This file can’t be checked. ${why}`, 'file');
}
