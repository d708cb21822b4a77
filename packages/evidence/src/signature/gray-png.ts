import { crc32 } from 'node:zlib';
import { deflateRuns } from './run-deflate.ts';

/** A gray picture of 8 bits a pixel, row by row, as a PNG (ISO/IEC 15948). */
export function grayPng(pixels: Uint8Array, width: number, height: number): Uint8Array {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  // 8 bits of gray; the only compression and filter method there are; not interlaced.
  head.set([8, 0, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', head),
    chunk('IDAT', deflateRuns(rows(pixels, width, height))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Each row begins with its filter: none. */
function rows(pixels: Uint8Array, width: number, height: number): Uint8Array {
  const filtered = new Uint8Array((width + 1) * height);
  for (let row = 0; row < height; row += 1)
    filtered.set(pixels.subarray(row * width, (row + 1) * width), row * (width + 1) + 1);
  return filtered;
}

function chunk(type: string, data: Uint8Array): Buffer {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}
