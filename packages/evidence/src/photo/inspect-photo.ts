import { open } from 'node:fs/promises';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type ExifFacts, readExif } from './exif-facts.ts';
import { decoding, maxPixels, sharp } from './image-engine.ts';
import { firstBytesWanted, type PhotoMediaType, readFirstBytes } from './magic-bytes.ts';

export interface PhotoFacts extends ExifFacts {
  readonly mediaType: PhotoMediaType;
  /** Pixels, as seen upright. */
  readonly width: number;
  readonly height: number;
  /** EXIF orientation, 1 to 8; 1 when the file says nothing. */
  readonly orientation: number;
}

/**
 * Looks at a received file's real bytes: its kind from the first bytes, its size from the header, then a decode of
 * the whole picture. Refuses with `photo_not_an_image`, `photo_too_many_pixels` or `photo_unreadable`, each saying
 * what was found and what to do. What the camera wrote down (EXIF) comes with the facts, the position included.
 */
export async function inspectPhoto(path: string): Promise<Result<PhotoFacts>> {
  const first = readFirstBytes(await readHead(path));
  if (first.kind === 'heic') return refuse('photo_not_an_image', adviceForHeic, 'photo');
  if (first.kind === 'other') {
    return refuse(
      'photo_not_an_image',
      `This is ${first.looksLike}. Send a photo as JPEG, PNG or WebP.`,
      'photo',
    );
  }
  return decoding(() => decode(path, first.mediaType));
}

export const adviceForHeic =
  'This photo is in the HEIC format, which cannot be read here. In the phone’s camera settings choose “Most Compatible” (JPEG) and take it again.';
const endsEarly = 'The file ends early or is damaged. Take the photo again or send it again.';
const decodeSecondsMax = 20;

async function readHead(path: string): Promise<Uint8Array> {
  await using file = await open(path, 'r');
  const { buffer, bytesRead } = await file.read(Buffer.alloc(firstBytesWanted), 0, firstBytesWanted, 0);
  return buffer.subarray(0, bytesRead);
}

async function decode(path: string, mediaType: PhotoMediaType): Promise<Result<PhotoFacts>> {
  // Only the header is read here, so the limit can be ours and its message can give the numbers.
  const header = await sharp(path, { limitInputPixels: false, failOn: 'error' })
    .metadata()
    .catch(() => null);
  if (header === null || `image/${header.format}` !== mediaType) {
    return refuse('photo_unreadable', endsEarly, 'photo');
  }
  if (header.width * header.height > maxPixels) {
    return refuse('photo_too_many_pixels', tooManyPixels(header.width, header.height), 'photo');
  }
  if ((header.pages ?? 1) > 1) {
    return refuse(
      'photo_not_an_image',
      'This is a moving picture. Send a photo as JPEG, PNG or WebP.',
      'photo',
    );
  }
  if (!(await decodesWholly(path, header.width, header.height)))
    return refuse('photo_unreadable', endsEarly, 'photo');
  const { width, height } = header.autoOrient;
  const orientation = header.orientation ?? 1;
  return ok({ mediaType, width, height, orientation, ...(await readExif(header.exif)) });
}

/**
 * Scaling to a stamp reads the whole picture without holding all its pixels. The region, though it is the whole
 * picture, keeps the JPEG decoder from working at reduced size, where it does not miss the file's last bytes.
 */
function decodesWholly(path: string, width: number, height: number): Promise<boolean> {
  return sharp(path, { failOn: 'warning', limitInputPixels: maxPixels, sequentialRead: true })
    .timeout({ seconds: decodeSecondsMax })
    .extract({ left: 0, top: 0, width, height })
    .resize(64, 64, { fit: 'fill' })
    .raw()
    .toBuffer()
    .then(
      () => true,
      () => false,
    );
}

function tooManyPixels(width: number, height: number): string {
  const [has, most] = [(width * height) / 1e6, maxPixels / 1e6].map((count) => Math.ceil(count));
  return `The photo has ${width} × ${height} pixels, ${has} megapixels; up to ${most} are taken. Lower the camera’s resolution and take it again.`;
}
