import { ok, type Result, refuse } from '../result.ts';

export type PhotoMediaType = 'image/jpeg' | 'image/png' | 'image/webp';

export type FirstBytes =
  | { readonly kind: 'photo'; readonly mediaType: PhotoMediaType }
  | { readonly kind: 'heic' }
  /** `looksLike` reads after "This is": `a PDF`, `a text file`. */
  | { readonly kind: 'other'; readonly looksLike: string };

/** How many bytes `readFirstBytes` wants to see. */
export const firstBytesWanted = 512;

/**
 * Says what a file is from its first bytes, whatever its name or the sender says. Signatures: JPEG ITU-T T.81
 * annex B (SOI), PNG 3rd edition §5.2, WebP RFC 9649 §2.3–2.4, HEIF ISO/IEC 23008-12 and AVIF brands in the
 * `ftyp` box of ISO/IEC 14496-12 §4.3.
 */
export function readFirstBytes(head: Uint8Array): FirstBytes {
  if (head.length === 0) return other('an empty file');
  const text = letters(head);
  if (text.startsWith('\xff\xd8\xff')) return photo('image/jpeg');
  if (text.startsWith('\x89PNG\r\n\x1a\n')) return photo('image/png');
  if (text.startsWith('RIFF') && text.slice(8, 12) === 'WEBP') return photo('image/webp');
  if (text.slice(4, 8) === 'ftyp') return readBrands(text);
  const known = signatures.find(({ starts }) => starts.some((start) => text.startsWith(start)));
  return other(known?.looksLike ?? readText(head));
}

const signatures: readonly { readonly starts: readonly string[]; readonly looksLike: string }[] = [
  { starts: ['GIF87a', 'GIF89a'], looksLike: 'a GIF' },
  { starts: ['%PDF'], looksLike: 'a PDF' },
  { starts: ['II*\0', 'MM\0*', 'II+\0', 'MM\0+'], looksLike: 'a TIFF or a camera’s raw file' },
  { starts: ['BM'], looksLike: 'a BMP' },
  { starts: ['PK\x03\x04', 'PK\x05\x06'], looksLike: 'a ZIP archive or an office document' },
  { starts: ['\xff\x0a', '\0\0\0\x0cJXL '], looksLike: 'a JPEG XL picture' },
  { starts: ['\0\0\0\x0cjP  '], looksLike: 'a JPEG 2000 picture' },
  { starts: ['\x1aE\xdf\xa3'], looksLike: 'a video' },
  { starts: ['RIFF'], looksLike: 'a sound or a video' },
  { starts: ['8BPS'], looksLike: 'a layered picture of a drawing program' },
  { starts: ['MZ', '\x7fELF'], looksLike: 'a program' },
];

function readBrands(text: string): FirstBytes {
  const length = Math.min(text.charCodeAt(2) * 256 + text.charCodeAt(3), text.length);
  // The major brand, then (after four bytes of version) the compatible ones.
  const brands = [text.slice(8, 12), ...(text.slice(16, Math.max(length, 16)).match(/.{4}/gs) ?? [])];
  const has = (...names: string[]) => names.some((name) => brands.includes(name));
  if (has('avif', 'avis')) return other('an AVIF picture');
  if (has('heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'mif1', 'msf1')) return { kind: 'heic' };
  return other('a video');
}

function readText(head: Uint8Array): string {
  const text = letters(head)
    .replace(/^\xef\xbb\xbf/, '')
    .trimStart();
  if (text.startsWith('<') && /<svg[\s>]/i.test(text)) return 'an SVG drawing';
  if (/^<(!doctype )?html/i.test(text)) return 'a web page';
  const controls = head.some((byte) => byte < 9 || (byte > 13 && byte < 32));
  return controls ? 'no kind of picture that we know' : 'a text file';
}

/** A letter for each byte. */
function letters(head: Uint8Array): string {
  return String.fromCharCode(...head.subarray(0, firstBytesWanted));
}

function photo(mediaType: PhotoMediaType): FirstBytes {
  return { kind: 'photo', mediaType };
}

function other(looksLike: string): FirstBytes {
  return { kind: 'other', looksLike };
}

/** Whether these first bytes are a photo's that can be taken; refuses with `photo_not_an_image`, saying what was found. */
export function checkPhotoKind(head: Uint8Array): Result<PhotoMediaType> {
  const first = readFirstBytes(head);
  if (first.kind === 'heic') return refuse('photo_not_an_image', adviceForHeic, 'photo');
  if (first.kind === 'photo') return ok(first.mediaType);
  return refuse(
    'photo_not_an_image',
    `This is ${first.looksLike}. Send a photo as JPEG, PNG or WebP.`,
    'photo',
  );
}

export const adviceForHeic =
  'This photo is in the HEIC format, which cannot be read here. In the phone’s camera settings choose “Most Compatible” (JPEG) and take it again.';

/** Refuses with `photo_too_large` above the most that the service takes. */
export function checkPhotoBytes(bytes: number, bytesMax: number): Result<true> {
  if (bytes <= bytesMax) return ok(true);
  const megabytes = Number((bytesMax / 1_000_000).toFixed(1));
  return refuse(
    'photo_too_large',
    `The photo is larger than ${megabytes} MB, the most that is taken. Lower the camera’s resolution and take it again.`,
    'photo',
  );
}

/** Phones make up to about 50 megapixels; 64 million pixels take about 200 MB decoded. */
export const photoPixelsMax = 64_000_000;

/** Refuses with `photo_too_many_pixels`. */
export function checkPhotoPixels(width: number, height: number): Result<true> {
  if (width * height <= photoPixelsMax) return ok(true);
  const [has, most] = [(width * height) / 1e6, photoPixelsMax / 1e6].map((count) => Math.ceil(count));
  return refuse(
    'photo_too_many_pixels',
    `The photo has ${width} × ${height} pixels, ${has} megapixels; up to ${most} are taken. Lower the camera’s resolution and take it again.`,
    'photo',
  );
}

/** Of a picture that can't be read whole. */
export const photoUnreadable = refuse(
  'photo_unreadable',
  'The file ends early or is damaged. Take the photo again or send it again.',
  'photo',
);
