import { expect, test } from 'vitest';
import { sharp } from '../photo/image-engine.ts';
import { inspectPhoto } from '../photo/inspect-photo.ts';
import { filesIn } from '../photo/photo-fixtures.ts';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { type DrawnPicture, drawPicture } from './drawn-picture.ts';

const file = filesIn(await scratchDirectory());

const cut: DrawnPicture = {
  part: 'tailgate_lining',
  trim: 'graphite',
  damage: 'cut',
  inches: 2.2,
  lifted: true,
  stage: 'before',
  seed: 4,
  takenAtLocal: '2026-08-05T14:03:09',
  takenAtOffset: '-05:00',
};

const cutBefore = await drawPicture(cut);

test('a drawn picture is a photo like any other, with its capture time', async () => {
  const path = await file('cut.jpg', cutBefore);
  expect(await inspectPhoto(path)).toEqual({
    ok: true,
    value: {
      exif: expect.objectContaining({ DateTimeOriginal: '2026:08:05 14:03:09', Make: 'Grainwright' }),
      mediaType: 'image/jpeg',
      width: 1600,
      height: 1200,
      orientation: 1,
      takenAtLocal: '2026-08-05T14:03:09',
      takenAtOffset: '-05:00',
      camera: 'Grainwright Drawn for the demo',
    },
  });
});

test('the same input gives the same bytes, another seed another picture', async () => {
  expect((await drawPicture(cut)).equals(cutBefore)).toBe(true);
  expect((await drawPicture({ ...cut, seed: 5 })).equals(cutBefore)).toBe(false);
});

test('before and after are one viewpoint: they differ at the damage and nowhere else', async () => {
  const before = await brightness(cutBefore);
  const after = await brightness(await drawPicture({ ...cut, stage: 'after' }));
  const difference = ({ at }: Field) => Math.abs((before[at]?.mean ?? 0) - (after[at]?.mean ?? 0));
  expect(Math.max(...before.filter(isMiddle).map(difference))).toBeGreaterThan(8);
  expect(Math.max(...before.filter(isBorder).map(difference))).toBeLessThanOrEqual(2);
});

test('a ruler lies beside what remained after heat', async () => {
  const before = await brightness(cutBefore);
  const ruled = await brightness(await drawPicture({ ...cut, stage: 'after_heat' }));
  const lightest = (fields: readonly Field[]) => Math.max(...fields.filter(isMiddle).map(({ mean }) => mean));
  expect(lightest(ruled)).toBeGreaterThan(lightest(before) + 40);
});

interface Field {
  readonly at: number;
  readonly mean: number;
}

/** Mean brightness of 16 by 12 fields. */
async function brightness(picture: Buffer): Promise<readonly Field[]> {
  const means = await sharp(picture).resize(16, 12, { fit: 'fill' }).greyscale().raw().toBuffer();
  return [...means].map((mean, at) => ({ at, mean }));
}

function isMiddle({ at }: Field): boolean {
  const [column, row] = [at % 16, Math.floor(at / 16)];
  return column > 4 && column < 13 && row > 3 && row < 9;
}

function isBorder({ at }: Field): boolean {
  return at % 16 === 0 || at % 16 === 15 || at < 16 || at >= 16 * 11;
}
