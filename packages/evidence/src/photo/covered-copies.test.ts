import { readdir } from 'node:fs/promises';
import exifr from 'exifr';
import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { makeCoveredCopies } from './covered-copies.ts';
import { sharp } from './image-engine.ts';
import { cameraExif, filesIn, sample } from './photo-fixtures.ts';

const scratch = await scratchDirectory();
const file = filesIn(scratch);
const ink = [0x1b, 0x1b, 0x1b];

async function pixelsOf(input: string | Buffer) {
  const { data, info } = await sharp(input).raw().toBuffer({ resolveWithObject: true });
  return {
    ...info,
    at: (x: number, y: number) => [...data.subarray((y * info.width + x) * 3, (y * info.width + x) * 3 + 3)],
  };
}

test('what was marked is one opaque color in every copy, and the rest of the full one is as it was', async () => {
  const source = await file('face.png', await sample({ width: 800, height: 600 }).png().toBuffer());
  // 160 to 400 across and 120 to 180 down, by hand: 20 and 30 percent of 800, 20 and 10 percent of 600; out to 16s.
  const covered = { left: 160, top: 112, right: 400, bottom: 192 };
  const made = await makeCoveredCopies(source, scratch, [
    { left: 2000, top: 2000, width: 3000, height: 1000 },
  ]);
  const full = await pixelsOf(made.full.path);
  const plain = await pixelsOf(
    await sharp(source).jpeg({ quality: 92, chromaSubsampling: '4:4:4' }).toBuffer(),
  );
  const inside = (x: number, y: number) =>
    x >= covered.left && x < covered.right && y >= covered.top && y < covered.bottom;
  const wrong: string[] = [];
  for (let y = 0; y < 600; y += 1)
    for (let x = 0; x < 800; x += 1)
      if (String(full.at(x, y)) !== String(inside(x, y) ? ink : plain.at(x, y))) wrong.push(`${x},${y}`);
  expect(wrong).toEqual([]);
  for (const { path, width } of [made.view, made.thumb]) {
    const copy = await pixelsOf(path);
    const scale = width / 800;
    for (const [x, y] of [
      [200, 130],
      [280, 152],
      [380, 175],
    ] as const) {
      const found = copy.at(Math.round(x * scale), Math.round(y * scale));
      // The color through one more JPEG.
      for (const [index, value] of found.entries())
        expect(Math.abs(value - (ink[index] ?? 0))).toBeLessThanOrEqual(3);
    }
  }
});

// Exif 2.32 §4.6.4: with 6 the stored top row is the right side as seen.
test('the parts are those of the upright picture, and nothing that the camera wrote is left', async () => {
  const tagged = sample({ width: 640, height: 480, orientation: 6, exif: cameraExif });
  const source = await file('sideways.jpg', await tagged.jpeg().toBuffer());
  const { full } = await makeCoveredCopies(source, scratch, [{ left: 0, top: 0, width: 5000, height: 1000 }]);
  expect([full.width, full.height]).toEqual([480, 640]);
  const copy = await pixelsOf(full.path);
  expect(copy.at(0, 0)).toEqual(ink);
  expect(copy.at(239, 63)).toEqual(ink);
  expect(copy.at(300, 20)).not.toEqual(ink);
  expect(copy.at(20, 80)).not.toEqual(ink);
  expect(await exifr.parse(full.path)).toBeUndefined();
});

test('the same parts give the same bytes, and a file that does not decode leaves none', async () => {
  const source = await file('same.jpg', await sample().jpeg().toBuffer());
  const parts = [{ left: 100, top: 100, width: 300, height: 300 }];
  const [first, second] = [
    await makeCoveredCopies(source, scratch, parts),
    await makeCoveredCopies(source, scratch, parts),
  ];
  expect([second.full.sha256, second.view.sha256, second.thumb.sha256]).toEqual([
    first.full.sha256,
    first.view.sha256,
    first.thumb.sha256,
  ]);
  const before = (await readdir(scratch)).length;
  const broken = await file('broken.jpg', Buffer.from('no picture'));
  await expect(makeCoveredCopies(broken, scratch, parts)).rejects.toThrow();
  expect((await readdir(scratch)).length).toBe(before + 1);
});
