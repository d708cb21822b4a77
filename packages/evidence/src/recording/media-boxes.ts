import type { FileHandle } from 'node:fs/promises';

export interface FoundBoxes {
  /** Whether there is what a player needs to find its way: a movie box, or the fragments of one. */
  readonly hasMovie: boolean;
  readonly namesPlace: boolean;
}

/**
 * Walks the boxes of an MP4 or QuickTime file (ISO/IEC 14496-12 §4.2) at its top level and looks into all but the media
 * data. Null where they do not add up to the file.
 */
export async function readBoxes(file: FileHandle, size: number): Promise<FoundBoxes | null> {
  let at = 0;
  let hasMovie = false;
  let namesPlace = false;
  for (let count = 0; at < size; count += 1) {
    const box = await readHead(file, at, size);
    if (box === null || count === boxesMost) return null;
    if (box.type === 'moov') hasMovie = true;
    if (!media.includes(box.type)) namesPlace ||= await saysPlace(file, at, box.length);
    at += box.length;
  }
  return { hasMovie, namesPlace };
}

/** A fragmented recording of minutes has two boxes for each second or so. */
const boxesMost = 50_000;
const media = ['mdat', 'free', 'skip', 'wide', 'ftyp', 'moof', 'sidx', 'mfra'];

interface Box {
  readonly type: string;
  readonly length: number;
}

async function readHead(file: FileHandle, at: number, size: number): Promise<Box | null> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(16), 0, 16, at);
  if (bytesRead < 8) return null;
  const type = buffer.toString('latin1', 4, 8);
  const short = buffer.readUInt32BE(0);
  // 0: to the end of the file; 1: the length follows in eight bytes.
  const length =
    short === 0 ? size - at : short === 1 && bytesRead === 16 ? Number(buffer.readBigUInt64BE(8)) : short;
  return length < 8 || at + length > size ? null : { type, length };
}

/** Larger descriptions than phones write are not read through; they count as naming a place. */
const readMost = 16_000_000;

/**
 * Where a place is written: `©xyz` and `loci` of user data (3GPP TS 26.244 §8), Apple's metadata keys, an XMP packet's
 * GPS, Exif as a packet of its own, and the tracks of cameras that write down where they went. A word too many only
 * keeps the file with the staff.
 */
const words = [
  '\xa9xyz',
  'loci',
  'com.apple.quicktime.location',
  'exif:GPS',
  'GPSCoordinates',
  'Exif\0\0',
  'gpmd',
  'camm',
].map((word) => Buffer.from(word, 'latin1'));

/** Handlers of tracks that are neither seen nor heard (ISO/IEC 14496-12 §8.4.3): their samples may say where it was. */
const sayingHandlers = ['text', 'sbtl', 'meta'];

async function saysPlace(file: FileHandle, at: number, length: number): Promise<boolean> {
  if (length > readMost) return true;
  const { buffer } = await file.read(Buffer.alloc(length), 0, length, at);
  return words.some((word) => buffer.includes(word)) || hasSayingTrack(buffer);
}

/** After the box's type come its version and flags, four bytes of no use here or QuickTime's `mhlr`, and the handler. */
function hasSayingTrack(buffer: Buffer): boolean {
  for (let at = buffer.indexOf('hdlr'); at >= 0; at = buffer.indexOf('hdlr', at + 4))
    if (sayingHandlers.includes(buffer.toString('latin1', at + 12, at + 16))) return true;
  return false;
}
