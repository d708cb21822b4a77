import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkPhotoBytes, checkPhotoKind, checkPhotoPixels, readFirstBytes } from './photo-file.ts';

const bytes = (text: string) => Buffer.from(text, 'latin1');

// Signatures as the formats' own standards give them, named beside the function.
test.each([
  ['\xff\xd8\xff\xe0\0\x10JFIF', 'image/jpeg'],
  ['\xff\xd8\xff\xe1\0\x10Exif', 'image/jpeg'],
  ['\x89PNG\r\n\x1a\n\0\0\0\rIHDR', 'image/png'],
  ['RIFF\x24\0\0\0WEBPVP8 ', 'image/webp'],
])('%j is a photo', (text, mediaType) => {
  expect(readFirstBytes(bytes(text))).toEqual({ kind: 'photo', mediaType });
});

test.each([
  '\0\0\0\x18ftypheic\0\0\0\0mif1heic',
  '\0\0\0\x1cftypmif1\0\0\0\0mif1heic',
  '\0\0\0\x18ftypheix\0\0\0\0mif1heix',
  '\0\0\0\x18ftyphevc\0\0\0\0msf1hevc',
])('%j is a HEIC photo', (text) => {
  expect(readFirstBytes(bytes(text))).toEqual({ kind: 'heic' });
});

test.each([
  ['', 'an empty file'],
  ['GIF89a\x01\0\x01\0', 'a GIF'],
  ['GIF89a/*\xff\xd8\xff', 'a GIF'],
  ['%PDF-1.7\n%\xff\xd8\xff', 'a PDF'],
  ['<svg xmlns="http://www.w3.org/2000/svg"/>', 'an SVG drawing'],
  ['\xef\xbb\xbf <?xml version="1.0"?>\n<!-- x --><svg >', 'an SVG drawing'],
  ['<!DOCTYPE html><html>', 'a web page'],
  ['Dear customer,\nthe photo is attached.', 'a text file'],
  ['\0\0\0\x1cftypavif\0\0\0\0avifmif1', 'an AVIF picture'],
  ['\0\0\0\x18ftypqt  \0\0\0\0qt  ', 'a video'],
  ['\0\0\0\x18ftypmp42\0\0\0\0isom', 'a video'],
  ['II*\0\x08\0\0\0', 'a TIFF or a camera’s raw file'],
  ['PK\x03\x04\x14\0', 'a ZIP archive or an office document'],
  ['RIFF\x24\0\0\0WAVEfmt ', 'a sound or a video'],
  ['\x01\x02\x03\x04', 'no kind of picture that we know'],
])('%j is not a photo, and it is said what it looks like', (text, looksLike) => {
  expect(readFirstBytes(bytes(text))).toEqual({ kind: 'other', looksLike });
});

test('any bytes at all get an answer, and only the three signatures make a photo', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 64 }), (head) => {
      const found = readFirstBytes(head);
      const starts = (...signature: number[]) => signature.every((byte, at) => head[at] === byte);
      const isPhoto =
        starts(0xff, 0xd8, 0xff) || starts(0x89, 0x50, 0x4e, 0x47) || starts(0x52, 0x49, 0x46, 0x46);
      if (found.kind === 'photo') expect(isPhoto).toBe(true);
    }),
  );
});

test('what can’t be taken says what it is and what to do, on a phone as on the server', () => {
  const detail = (text: string) => {
    const kind = checkPhotoKind(bytes(text));
    return kind.ok ? kind.value : kind.problem.detail;
  };
  expect(detail('\0\0\0\x18ftypheic\0\0\0\0mif1heic')).toContain('choose “Most Compatible” (JPEG)');
  expect(detail('GIF89a\x01\0\x01\0')).toBe('This is a GIF. Send a photo as JPEG, PNG or WebP.');
  expect(detail('\xff\xd8\xff\xe0')).toBe('image/jpeg');
  expect(checkPhotoBytes(60_000_000, 40_000_000)).toMatchObject({
    problem: { code: 'photo_too_large', detail: expect.stringContaining('larger than 40 MB') },
  });
  expect(checkPhotoBytes(40_000_000, 40_000_000).ok).toBe(true);
  expect(checkPhotoPixels(60_000, 60_000)).toMatchObject({ problem: { code: 'photo_too_many_pixels' } });
  expect(checkPhotoPixels(8000, 8000).ok).toBe(true);
});
