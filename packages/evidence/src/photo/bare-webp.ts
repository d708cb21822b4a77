import { orientationExif } from './orientation-exif.ts';

/**
 * A WebP with the chunks that make its picture and its colors, and no others; the flags in its extended header say so.
 * Chunks and flags: RFC 9649 §2.3, §2.4 and §2.7.
 */
export function bareWebp(bytes: Uint8Array, orientation: number): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = 8 + view.getUint32(4, true);
  if (end > bytes.length) throw new Error('the WebP ends early');
  const kept: Uint8Array[] = [];
  for (let at = 12; at < end; ) {
    const length = at + 8 > end ? 0 : view.getUint32(at + 4, true);
    const next = at + 8 + length + (length % 2);
    if (at + 8 > end || at + 8 + length > end) throw new Error('a chunk of the WebP is longer than the file');
    const type = Buffer.from(bytes.subarray(at, at + 4)).toString('latin1');
    if (ofThePicture.includes(type)) kept.push(padded(bytes.subarray(at, Math.min(next, end))));
    at = next;
  }
  return assemble(kept, orientation);
}

const ofThePicture = ['VP8X', 'VP8 ', 'VP8L', 'ALPH', 'ANIM', 'ANMF', 'ICCP'];
const hasExif = 0x08;
const hasXmp = 0x04;

function assemble(chunks: readonly Uint8Array[], orientation: number): Uint8Array {
  const [first, ...rest] = chunks;
  if (first === undefined) throw new Error('the WebP holds no picture');
  const isExtended = Buffer.from(first.subarray(0, 4)).toString('latin1') === 'VP8X';
  // Only an extended file can say how it was held.
  const turned = isExtended && orientation !== 1;
  const head = Buffer.from(first);
  if (isExtended) head[8] = ((head[8] ?? 0) & ~(hasExif | hasXmp)) | (turned ? hasExif : 0);
  const body = Buffer.concat([head, ...rest, ...(turned ? [exifChunk(orientation)] : [])]);
  const frame = Buffer.from('RIFF\0\0\0\0WEBP', 'latin1');
  frame.writeUInt32LE(4 + body.length, 4);
  return Buffer.concat([frame, body]);
}

function exifChunk(orientation: number): Uint8Array {
  const block = orientationExif(orientation);
  const head = Buffer.from('EXIF\0\0\0\0', 'latin1');
  head.writeUInt32LE(block.length, 4);
  return padded(Buffer.concat([head, block]));
}

function padded(chunk: Uint8Array): Uint8Array {
  return chunk.length % 2 === 0 ? chunk : Buffer.concat([chunk, Uint8Array.of(0)]);
}
