import { readFile } from 'node:fs/promises';
import { firstBytesWanted, type PhotoMediaType, readFirstBytes } from '@grainwright/domain';
import { bareJpeg } from './bare-jpeg.ts';
import { barePng } from './bare-png.ts';
import { bareWebp } from './bare-webp.ts';
import { decoding, sharp } from './image-engine.ts';

/**
 * The bare copy of an inspected original, given as its bytes or the path of its file: the same compressed picture, byte
 * for byte, without anything the camera or anybody else wrote beside it: no position, no time, no thumbnail, nothing
 * behind the picture's end. Color profiles stay, and a picture held sideways keeps the one word that says so. The same
 * original always gives the same bytes, so its digest can be sealed and proved later by whoever has only the copy.
 * Throws on a file whose parts do not fit together.
 */
export function makeBareCopy(original: string | Uint8Array): Promise<Uint8Array> {
  // In turn with what decodes: the whole file is in memory meanwhile, twice.
  return decoding(() => copyBare(original));
}

async function copyBare(original: string | Uint8Array): Promise<Uint8Array> {
  const bytes = typeof original === 'string' ? await readFile(original) : original;
  const first = readFirstBytes(bytes.subarray(0, firstBytesWanted));
  if (first.kind !== 'photo') throw new Error('this is no photo');
  const { orientation = 1 } = await sharp(bytes, { limitInputPixels: false }).metadata();
  return strip[first.mediaType](bytes, orientation);
}

const strip: Readonly<Record<PhotoMediaType, (bytes: Uint8Array, orientation: number) => Uint8Array>> = {
  'image/jpeg': bareJpeg,
  'image/png': barePng,
  'image/webp': bareWebp,
};
