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
  const text = Buffer.from(head).toString('latin1');
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
  const text = Buffer.from(head)
    .toString('utf8')
    .replace(/^\ufeff/, '')
    .trimStart();
  if (text.startsWith('<') && /<svg[\s>]/i.test(text)) return 'an SVG drawing';
  if (/^<(!doctype )?html/i.test(text)) return 'a web page';
  const controls = head.some((byte) => byte < 9 || (byte > 13 && byte < 32));
  return controls ? 'no kind of picture that we know' : 'a text file';
}

function photo(mediaType: PhotoMediaType): FirstBytes {
  return { kind: 'photo', mediaType };
}

function other(looksLike: string): FirstBytes {
  return { kind: 'other', looksLike };
}
