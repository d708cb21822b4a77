import { crc32 } from 'node:zlib';
import { orientationExif } from './orientation-exif.ts';

/**
 * A PNG with the chunks that make its picture and its colors, and no others: no text, time or EXIF, and nothing behind
 * its end. Chunks: PNG 3rd edition §5.3 and §11.3.
 */
export function barePng(bytes: Uint8Array, orientation: number): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kept: Uint8Array[] = [bytes.subarray(0, signatureBytes)];
  let at = signatureBytes;
  for (;;) {
    if (at + 12 > bytes.length) throw new Error('the PNG ends early');
    const end = at + 12 + view.getUint32(at);
    if (end > bytes.length) throw new Error('a chunk of the PNG is longer than the file');
    const type = Buffer.from(bytes.subarray(at + 4, at + 8)).toString('latin1');
    if (isKept(type)) kept.push(bytes.subarray(at, end));
    // Right behind the header: an eXIf chunk may stand anywhere but between the picture's data.
    if (type === 'IHDR' && orientation !== 1) kept.push(exifChunk(orientation));
    if (type === 'IEND') return Buffer.concat(kept);
    at = end;
  }
}

const signatureBytes = 8;
const ofColors = ['tRNS', 'gAMA', 'cHRM', 'sRGB', 'iCCP', 'cICP', 'mDCV', 'cLLI', 'sBIT', 'bKGD', 'pHYs'];

/** A capital letter first: nobody can show the picture without it. */
function isKept(type: string): boolean {
  return /^[A-Z]/.test(type) || ofColors.includes(type);
}

function exifChunk(orientation: number): Uint8Array {
  const body = Buffer.concat([Buffer.from('eXIf', 'latin1'), orientationExif(orientation)]);
  const frame = Buffer.alloc(8);
  frame.writeUInt32BE(body.length - 4, 0);
  frame.writeUInt32BE(crc32(body), 4);
  return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
}
