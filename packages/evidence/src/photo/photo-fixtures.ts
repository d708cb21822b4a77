import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import { sharp } from './image-engine.ts';

/** The place that the tests' EXIF names: 41°30′30″ N, 81°15′0″ W. */
export const somewhere = { latitude: 41.508333, longitude: -81.25 };

interface Sample {
  readonly width?: number;
  readonly height?: number;
  readonly orientation?: number;
  readonly exif?: Parameters<ReturnType<typeof sharp>['withExif']>[0];
}

/** A picture whose upper left quarter is red and the rest blue, so that turning it is seen. */
export function sample({ width = 400, height = 300, orientation = 1, exif }: Sample = {}) {
  return sharp(quarterRed(width, height), { raw: { width, height, channels: 3 } })
    .withExif(exif ?? {})
    .withMetadata({ orientation });
}

function quarterRed(width: number, height: number): Buffer {
  const pixels = Buffer.alloc(width * height * 3, 30);
  let at = 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      if (x < width / 2 && y < height / 2) pixels[at] = 220;
      else pixels[at + 2] = 200 + ((x * 7 + y * 3) % 40);
      at += 3;
    }
  }
  return pixels;
}

/** Tag names and forms of Exif 2.32; the image library calls the Exif and GPS blocks IFD2 and IFD3. */
export const cameraExif = {
  IFD0: { Make: 'Example', Model: 'Example Phone 1' },
  IFD2: { DateTimeOriginal: '2026:08:05 14:03:09', OffsetTimeOriginal: '-05:00' },
  IFD3: {
    GPSLatitudeRef: 'N',
    GPSLatitude: '41/1 30/1 3000/100',
    GPSLongitudeRef: 'W',
    GPSLongitude: '81/1 15/1 0/1',
  },
};

/** A PNG by hand (PNG 3rd edition §5): its header claims the size, its data is valid zlib and far too short. */
export function pngClaiming(width: number, height: number): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.alloc(1024))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}

/** Writes files under names of the test's choosing into one folder. */
export function filesIn(directory: string) {
  return async (name: string, content: Buffer | string): Promise<string> => {
    const path = join(directory, name);
    await writeFile(path, content);
    return path;
  };
}
