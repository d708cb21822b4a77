import { ok, type Result, refuse } from '../../result.ts';
import { startDigest } from '../digest.ts';
import {
  dataStart,
  localHeaderLength,
  readZipDirectory,
  readZipEnd,
  type ZipEntry,
  zipTailBytes,
} from './zip-directory.ts';

/** A file to read from in pieces: one on disk, or one that was dropped onto a page. */
export interface ArchiveFile {
  readonly bytes: number;
  /** The bytes from `start` up to and without `end`. */
  readonly read: (start: number, end: number) => Promise<Uint8Array>;
}

/** What a file of an archive is by its content. */
export interface ArchivedFile {
  readonly name: string;
  readonly bytes: number;
  /** SHA-256 in lower-case hex. */
  readonly sha256: string;
  /** The whole text of a small file whose name ends in `.json`; null for every other, and where it is no UTF-8. */
  readonly text: string | null;
}

/** Larger records don't occur; they are hashed like any file and not read. */
const textBytesMax = 2_000_000;
const allTextBytesMax = 40_000_000;
const pieceBytes = 1 << 20;

/**
 * Reads every file of a ZIP archive once, in pieces, and keeps only digests and small records: memory stays bounded
 * whatever the archive is. Refuses with `invalid_input` what is no whole archive, in plain words.
 */
export async function readArchive(
  file: ArchiveFile,
  onProgress: (doneBytes: number, allBytes: number) => void = () => {},
): Promise<Result<readonly ArchivedFile[]>> {
  const tail = await file.read(Math.max(0, file.bytes - zipTailBytes), file.bytes);
  const end = readZipEnd(tail, file.bytes);
  if (!end.ok) return end;
  const { directoryAt, directoryBytes } = end.value;
  const entries = readZipDirectory(await file.read(directoryAt, directoryAt + directoryBytes), end.value);
  if (!entries.ok) return entries;
  const allBytes = entries.value.reduce((sum, entry) => sum + entry.bytes, 0);
  const found: ArchivedFile[] = [];
  let doneBytes = 0;
  let textBytes = 0;
  for (const entry of entries.value) {
    const keepsText = isRecord(entry) && textBytes + entry.bytes <= allTextBytesMax;
    const read = await readEntry(file, entry, keepsText);
    if (!read.ok) return read;
    found.push(read.value);
    doneBytes += entry.bytes;
    textBytes += keepsText ? entry.bytes : 0;
    onProgress(doneBytes, allBytes);
  }
  return ok(found);
}

function isRecord({ name, bytes }: ZipEntry): boolean {
  return name.endsWith('.json') && bytes <= textBytesMax;
}

async function readEntry(
  file: ArchiveFile,
  entry: ZipEntry,
  keepsText: boolean,
): Promise<Result<ArchivedFile>> {
  const { name, headerAt, bytes } = entry;
  const headerEnd = Math.min(file.bytes, headerAt + localHeaderLength(entry));
  const start = dataStart(await file.read(headerAt, headerEnd), entry);
  if (start === null || start + entry.packedBytes > file.bytes)
    return damaged(name, 'is not where or what the archive’s directory says');
  const digest = startDigest();
  const kept: Uint8Array[] = [];
  let length = 0;
  try {
    for await (const piece of unpacked(file, entry, start)) {
      length += piece.length;
      if (length > bytes) break;
      digest.add(piece);
      if (keepsText) kept.push(piece);
    }
  } catch {
    return damaged(name, 'can’t be unpacked');
  }
  if (length !== bytes) return damaged(name, 'has another length than the archive’s directory says');
  return ok({ name, bytes, sha256: digest.hex(), text: keepsText ? textOf(kept) : null });
}

function damaged(name: string, how: string): ReturnType<typeof refuse> {
  return refuse(
    'invalid_input',
    `This file can’t be checked. “${name}” in it ${how}: it was damaged.`,
    'file',
  );
}

async function* unpacked(file: ArchiveFile, entry: ZipEntry, start: number): AsyncGenerator<Uint8Array> {
  const end = start + entry.packedBytes;
  if (!entry.deflated) {
    yield* pieces(file, start, end);
    return;
  }
  // A reader that stops early cancels the stream, so that nothing more is unpacked than was asked for.
  const reader = packedStream(file, start, end)
    .pipeThrough(new DecompressionStream('deflate-raw'))
    .getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}

function packedStream(
  file: ArchiveFile,
  start: number,
  end: number,
): ReadableStream<Uint8Array<ArrayBuffer>> {
  let at = start;
  return new ReadableStream({
    async pull(controller) {
      if (at >= end) {
        controller.close();
        return;
      }
      const piece = await file.read(at, Math.min(end, at + 65_536));
      at += piece.length;
      if (piece.length === 0) controller.error(new Error('the file ended early'));
      else controller.enqueue(new Uint8Array(piece));
    },
  });
}

async function* pieces(file: ArchiveFile, start: number, end: number): AsyncGenerator<Uint8Array> {
  for (let at = start; at < end; ) {
    const piece = await file.read(at, Math.min(end, at + pieceBytes));
    if (piece.length === 0) return;
    at += piece.length;
    yield piece;
  }
}

function textOf(parts: readonly Uint8Array[]): string | null {
  const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  try {
    return parts.map((part) => decoder.decode(part, { stream: true })).join('') + decoder.decode();
  } catch {
    return null;
  }
}
