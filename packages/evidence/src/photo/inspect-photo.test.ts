import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { sharp } from './image-engine.ts';
import { inspectPhoto } from './inspect-photo.ts';
import { cameraExif, filesIn, pngClaiming, sample, somewhere } from './photo-fixtures.ts';

const file = filesIn(await scratchDirectory());

async function problemOf(path: string) {
  const found = await inspectPhoto(path);
  if (found.ok) throw new Error('taken, though it should have been refused');
  return found.problem;
}

async function factsOf(path: string) {
  const found = await inspectPhoto(path);
  if (!found.ok) throw new Error(found.problem.detail);
  return found.value;
}

test.each(['jpeg', 'png', 'webp'] as const)(
  'a %s gives its size and what the camera wrote down',
  async (format) => {
    const path = await file(`plain.${format}`, await sample({ exif: cameraExif })[format]().toBuffer());
    expect(await factsOf(path)).toEqual({
      mediaType: `image/${format}`,
      width: 400,
      height: 300,
      orientation: 1,
      takenAtLocal: '2026-08-05T14:03:09',
      takenAtOffset: '-05:00',
      position: {
        latitude: expect.closeTo(somewhere.latitude, 5),
        longitude: expect.closeTo(somewhere.longitude, 5),
      },
      camera: 'Example Phone 1',
      exif: expect.objectContaining({ Model: 'Example Phone 1', DateTimeOriginal: '2026:08:05 14:03:09' }),
    });
  },
);

test('a photo without EXIF has a size and nothing else', async () => {
  const path = await file(
    'bare.png',
    await sharp(await sample().png().toBuffer())
      .png()
      .toBuffer(),
  );
  expect(await factsOf(path)).toEqual({ mediaType: 'image/png', width: 400, height: 300, orientation: 1 });
});

// Exif 2.32 §4.6.4, Orientation: 5 to 8 have row and column exchanged.
test.each([
  [3, 400, 300],
  [6, 300, 400],
  [8, 300, 400],
])('a photo with orientation %i is measured as seen upright', async (orientation, width, height) => {
  const path = await file(`turned-${orientation}.jpg`, await sample({ orientation }).jpeg().toBuffer());
  expect(await factsOf(path)).toMatchObject({ orientation, width, height });
});

test.each([
  ['blank', '    :  :     :  :  '],
  ['not a date', '2026:02:30 10:00:00'],
  ['zero', '0000:00:00 00:00:00'],
])('a capture time that is %s is left out', async (name, time) => {
  const exif = { IFD2: { DateTimeOriginal: time } };
  const path = await file(`time-${name}.jpg`, await sample({ exif }).jpeg().toBuffer());
  expect(await factsOf(path)).not.toHaveProperty('takenAtLocal');
});

test('a position of exactly 0, 0 is a camera without a fix', async () => {
  const exif = {
    IFD3: {
      GPSLatitudeRef: 'N',
      GPSLatitude: '0/1 0/1 0/1',
      GPSLongitudeRef: 'E',
      GPSLongitude: '0/1 0/1 0/1',
    },
  };
  const path = await file('no-fix.jpg', await sample({ exif }).jpeg().toBuffer());
  expect(await factsOf(path)).not.toHaveProperty('position');
});

test('a JPEG that ends early is unreadable, wherever it was cut', async () => {
  const whole = await sample({ width: 1200, height: 900 }).jpeg().toBuffer();
  for (const missing of [whole.length - 100, 20_000, 10_000, 2_000, 300, 100, 20, 2]) {
    const path = await file(`cut-${missing}.jpg`, whole.subarray(0, whole.length - missing));
    const problem = await problemOf(path);
    expect(problem).toMatchObject({ code: 'photo_unreadable', field: 'photo' });
    expect(problem.detail).toContain('ends early');
  }
});

test.each(['png', 'webp'] as const)('a %s that ends early is unreadable', async (format) => {
  const whole = await sample()[format]().toBuffer();
  const path = await file(`cut.${format}`, whole.subarray(0, Math.floor(whole.length * 0.7)));
  expect((await problemOf(path)).code).toBe('photo_unreadable');
});

test('a JPEG with bytes changed in its middle is unreadable or still a whole picture, never a crash', async () => {
  const whole = await sample().jpeg().toBuffer();
  for (let at = 4; at < whole.length; at += Math.ceil(whole.length / 40)) {
    const spoiled = Buffer.from(whole);
    spoiled.fill(0xff, at, at + 3);
    const found = await inspectPhoto(await file('spoiled.jpg', spoiled));
    expect(found.ok || ['photo_unreadable', 'photo_too_many_pixels'].includes(found.problem.code)).toBe(true);
  }
});

test('a PNG of 20000 by 15000 pixels is refused from its header, with the numbers', async () => {
  const problem = await problemOf(await file('huge.png', pngClaiming(20_000, 15_000)));
  expect(problem.code).toBe('photo_too_many_pixels');
  expect(problem.detail).toContain('20000 × 15000');
  expect(problem.detail).toContain('300 megapixels');
  expect(problem.detail).toContain('64');
});

test('a PNG whose data is shorter than its header claims is unreadable', async () => {
  expect((await problemOf(await file('short.png', pngClaiming(4000, 3000)))).code).toBe('photo_unreadable');
});

test.each([
  ['text.jpg', 'This is not a photo.', 'a text file'],
  ['empty.jpg', '', 'an empty file'],
  ['gif.jpg', Buffer.from('GIF89a\xff\xd8\xff\xe0\0\x10JFIF', 'latin1'), 'a GIF'],
  ['pdf.jpg', Buffer.from('%PDF-1.7\n\xff\xd8\xff\xe0\0\x10JFIF', 'latin1'), 'a PDF'],
  ['svg.png', '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>', 'an SVG drawing'],
])('%s is refused by its first bytes, saying what it looks like', async (name, content, looksLike) => {
  const problem = await problemOf(await file(name, content));
  expect(problem.code).toBe('photo_not_an_image');
  expect(problem.detail).toContain(`This is ${looksLike}.`);
});

test('a HEIC photo is refused with the camera setting that helps', async () => {
  const problem = await problemOf(
    await file('phone.jpg', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1')),
  );
  expect(problem.code).toBe('photo_not_an_image');
  expect(problem.detail).toContain('Most Compatible');
});

test('a JPEG signature in front of anything else is unreadable', async () => {
  const polyglots = ['%PDF-1.7', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'GIF89a', '\0'.repeat(155)];
  for (const content of polyglots) {
    const path = await file('polyglot.jpg', Buffer.from(`\xff\xd8\xff${content}`, 'latin1'));
    expect((await problemOf(path)).code).toBe('photo_unreadable');
  }
});
