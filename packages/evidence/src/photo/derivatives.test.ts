import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import exifr from 'exifr';
import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { makeDerivatives } from './derivatives.ts';
import { sharp } from './image-engine.ts';
import { cameraExif, filesIn, sample } from './photo-fixtures.ts';

const scratch = await scratchDirectory();
const file = filesIn(scratch);
const large = { width: 2400, height: 1800, exif: cameraExif };

test('the view is at most 1600 pixels long and the thumb 480, in the shape of the original', async () => {
  const source = await file('large.jpg', await sample(large).jpeg().toBuffer());
  const { view, thumb } = await makeDerivatives(source, scratch);
  expect(view).toMatchObject({ width: 1600, height: 1200 });
  expect(thumb).toMatchObject({ width: 480, height: 360 });
  for (const made of [view, thumb]) {
    const content = await readFile(made.path);
    expect(content.length).toBe(made.bytes);
    expect(createHash('sha256').update(content).digest('hex')).toBe(made.sha256);
    expect(await sharp(made.path).metadata()).toMatchObject({
      format: 'jpeg',
      space: 'srgb',
      width: made.width,
    });
  }
});

test('a small photo is not blown up', async () => {
  const source = await file('small.jpg', await sample().jpeg().toBuffer());
  expect((await makeDerivatives(source, scratch)).view).toMatchObject({ width: 400, height: 300 });
});

// Exif 2.32 §4.6.4: with 6 the stored top row is the right side as seen, so the stored upper left is the upper right.
test('a photo held sideways is stored upright', async () => {
  const source = await file(
    'sideways.jpg',
    await sample({ ...large, orientation: 6 })
      .jpeg()
      .toBuffer(),
  );
  const { view, thumb } = await makeDerivatives(source, scratch);
  expect(view).toMatchObject({ width: 1200, height: 1600 });
  for (const made of [view, thumb]) {
    expect((await sharp(made.path).metadata()).orientation).toBeUndefined();
    const { data, info } = await sharp(made.path).raw().toBuffer({ resolveWithObject: true });
    const redAt = (x: number, y: number) =>
      data[(Math.floor(info.height * y) * info.width + Math.floor(info.width * x)) * 3];
    expect(redAt(0.75, 0.25)).toBeGreaterThan(180);
    expect(redAt(0.25, 0.25)).toBeLessThan(80);
    expect(redAt(0.75, 0.75)).toBeLessThan(80);
  }
});

test('neither the position nor anything else the camera wrote down is in them', async () => {
  const source = await file('tagged.jpg', await sample(large).jpeg().toBuffer());
  expect(await exifr.gps(source)).toBeDefined();
  const { view, thumb } = await makeDerivatives(source, scratch);
  for (const made of [view, thumb]) {
    const { exif, xmp, iptc, icc } = await sharp(made.path).metadata();
    expect([exif, xmp, iptc, icc]).toEqual([undefined, undefined, undefined, undefined]);
    const text = (await readFile(made.path)).toString('latin1');
    expect(text).not.toMatch(/Exif|GPS|Example Phone|2026:08:05/);
  }
});

test('the same original gives the same bytes', async () => {
  const source = await file('again.jpg', await sample(large).jpeg().toBuffer());
  const [first, second] = await Promise.all([
    makeDerivatives(source, scratch),
    makeDerivatives(source, scratch),
  ]);
  expect(second.view.sha256).toBe(first.view.sha256);
  expect(second.thumb.sha256).toBe(first.thumb.sha256);
  expect(second.view.path).not.toBe(first.view.path);
});

test('a see-through PNG lies on white, and colors of a wider space come as sRGB', async () => {
  const clear = { r: 0, g: 0, b: 0, alpha: 0 };
  const png = sharp({ create: { width: 40, height: 40, channels: 4, background: clear } }).png();
  const { view } = await makeDerivatives(await file('clear.png', await png.toBuffer()), scratch);
  expect([...(await sharp(view.path).raw().toBuffer()).subarray(0, 3)]).toEqual([255, 255, 255]);
  const wide = await sample().withIccProfile('p3').jpeg({ quality: 100 }).toBuffer();
  const made = await makeDerivatives(await file('wide.jpg', wide), scratch);
  const red = (await sharp(made.view.path).raw().toBuffer()).subarray(0, 1);
  expect(red[0]).toBeGreaterThan(210);
});

test('a file that does not decode throws and leaves nothing', async () => {
  const directory = join(scratch, 'nothing');
  await mkdir(directory);
  const whole = await sample(large).jpeg().toBuffer();
  const source = await file('half.jpg', whole.subarray(0, whole.length / 2));
  await expect(makeDerivatives(source, directory)).rejects.toThrow();
  expect(await readdir(directory)).toEqual([]);
});
