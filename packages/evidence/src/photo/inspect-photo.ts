import { open } from 'node:fs/promises';
import {
  checkPhotoKind,
  checkPhotoPixels,
  firstBytesWanted,
  ok,
  type PhotoMediaType,
  photoPixelsMax,
  photoUnreadable,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type ExifFacts, readExif } from './exif-facts.ts';
import { decoding, sharp } from './image-engine.ts';

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
  const kind = checkPhotoKind(await readHead(path));
  if (!kind.ok) return kind;
  return decoding(() => decode(path, kind.value));
}

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
    return photoUnreadable;
  }
  const pixels = checkPhotoPixels(header.width, header.height);
  if (!pixels.ok) return pixels;
  if ((header.pages ?? 1) > 1) {
    return refuse(
      'photo_not_an_image',
      'This is a moving picture. Send a photo as JPEG, PNG or WebP.',
      'photo',
    );
  }
  if (!(await decodesWholly(path, header.width, header.height))) return photoUnreadable;
  const { width, height } = header.autoOrient;
  const orientation = header.orientation ?? 1;
  return ok({ mediaType, width, height, orientation, ...(await readExif(header.exif)) });
}

/**
 * Scaling to a stamp reads the whole picture without holding all its pixels. The region, though it is the whole
 * picture, keeps the JPEG decoder from working at reduced size, where it does not miss the file's last bytes.
 */
function decodesWholly(path: string, width: number, height: number): Promise<boolean> {
  return sharp(path, { failOn: 'warning', limitInputPixels: photoPixelsMax, sequentialRead: true })
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
