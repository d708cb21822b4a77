import { crc32 } from 'node:zlib';

/** A file of an archive. It is opened twice: to measure it, and to write it. */
export interface ZipFile {
  readonly name: string;
  readonly open: () => AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
}

const archiveBytesMax = 0xfffffffe;
const filesMax = 0xfffe;
/** Jan 1, 1980, the earliest that the format knows: the same files make the same bytes on any day, in any time zone. */
const dosDate = 0x0021;
const versionNeeded = 20;
const namesAreUtf8 = 0x0800;

interface Written {
  readonly name: Buffer;
  readonly crc: number;
  readonly bytes: number;
  readonly at: number;
}

/**
 * A ZIP archive (APPNOTE.TXT 6.3.10) as a stream: every file as it is, not packed smaller, with its length and CRC
 * before it. The same files in the same order make the same bytes. Throws for more than the format holds without ZIP64,
 * and for a file that changed between the two times that it was opened.
 */
export async function* zipOf(files: AsyncIterable<ZipFile> | Iterable<ZipFile>): AsyncGenerator<Uint8Array> {
  const written: Written[] = [];
  let at = 0;
  for await (const file of files) {
    const entry = { name: Buffer.from(file.name, 'utf8'), at, ...(await measured(file)) };
    const header = localHeader(entry);
    at += header.length + entry.bytes;
    if (at > archiveBytesMax || written.length >= filesMax) throw new Error('more than a ZIP archive holds');
    yield header;
    yield* unchanged(file, entry);
    written.push(entry);
  }
  const directory = Buffer.concat(written.map(directoryEntry));
  yield directory;
  yield endRecord(written.length, directory.length, at);
}

async function measured(file: ZipFile): Promise<Pick<Written, 'crc' | 'bytes'>> {
  let crc = 0;
  let bytes = 0;
  for await (const piece of file.open()) {
    crc = crc32(piece, crc);
    bytes += piece.length;
  }
  return { crc, bytes };
}

async function* unchanged(file: ZipFile, { bytes, crc }: Written): AsyncGenerator<Uint8Array> {
  let written = 0;
  let check = 0;
  for await (const piece of file.open()) {
    written += piece.length;
    check = crc32(piece, check);
    yield piece;
  }
  if (written !== bytes || check !== crc) throw new Error(`${file.name} changed while it was archived`);
}

/** Section 4.3.7. */
function localHeader({ name, crc, bytes }: Written): Buffer {
  const header = Buffer.alloc(30);
  header.writeUInt32LE(0x04034b50, 0);
  header.writeUInt16LE(versionNeeded, 4);
  header.writeUInt16LE(namesAreUtf8, 6);
  header.writeUInt16LE(dosDate, 12);
  header.writeUInt32LE(crc, 14);
  header.writeUInt32LE(bytes, 18);
  header.writeUInt32LE(bytes, 22);
  header.writeUInt16LE(name.length, 26);
  return Buffer.concat([header, name]);
}

/** Section 4.3.12; made by version 2.0 for MS-DOS, so that no file gets rights from here. */
function directoryEntry({ name, crc, bytes, at }: Written): Buffer {
  const entry = Buffer.alloc(46);
  entry.writeUInt32LE(0x02014b50, 0);
  entry.writeUInt16LE(versionNeeded, 4);
  entry.writeUInt16LE(versionNeeded, 6);
  entry.writeUInt16LE(namesAreUtf8, 8);
  entry.writeUInt16LE(dosDate, 14);
  entry.writeUInt32LE(crc, 16);
  entry.writeUInt32LE(bytes, 20);
  entry.writeUInt32LE(bytes, 24);
  entry.writeUInt16LE(name.length, 28);
  entry.writeUInt32LE(at, 42);
  return Buffer.concat([entry, name]);
}

/** Section 4.3.16. */
function endRecord(count: number, directoryBytes: number, directoryAt: number): Buffer {
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(count, 8);
  end.writeUInt16LE(count, 10);
  end.writeUInt32LE(directoryBytes, 12);
  end.writeUInt32LE(directoryAt, 16);
  return end;
}
