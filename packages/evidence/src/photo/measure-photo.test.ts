import { type PhotoMeasures, photoBounds, qualityWarnings } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { type DrawnPicture, drawPicture } from '../drawn/drawn-picture.ts';
import { sharp } from './image-engine.ts';
import { measurePhoto } from './measure-photo.ts';

/** Two of the pictures that docs/photo-warnings.md measures; `npm run measure:warnings` measures them all. */
const parts = [
  { part: 'door_panel', trim: 'charcoal', damage: 'scuff' },
  { part: 'tailgate_lining', trim: 'graphite', damage: 'cut' },
] as const;

const drawn = (part: (typeof parts)[number], stage: DrawnPicture['stage'] = 'before') =>
  drawPicture({
    ...part,
    inches: 2.2,
    stage,
    seed: 7,
    coarse: true,
    takenAtLocal: '2026-08-05T14:03:09',
    takenAtOffset: '-05:00',
  });

const said = (measures: PhotoMeasures) =>
  qualityWarnings({ measures, width: 800, height: 600 }).map(({ code }) => code);

test('of drawn trim the sharp, the blurred, the dark and the glaring are told apart', async () => {
  for (const part of parts) {
    const sharpOne = await drawn(part);
    const made = async (change: (picture: ReturnType<typeof sharp>) => ReturnType<typeof sharp>) =>
      said(await measurePhoto(await change(sharp(sharpOne)).jpeg({ quality: 88 }).toBuffer()));
    expect(said(await measurePhoto(sharpOne))).toEqual([]);
    expect(await made((picture) => picture.jpeg({ quality: 50 }))).toEqual([]);
    expect(await made((picture) => picture.blur(4))).toEqual(['blurred']);
    expect(await made((picture) => picture.linear(0.15, 0))).toEqual(['too_dark']);
    expect(await made((picture) => picture.linear(2.5, 60))).toContain('washed_out');
  }
});

test('a picture turned by its EXIF is measured upright', async () => {
  const upright = await measurePhoto(await drawn(parts[0]));
  const turned = await sharp(await drawn(parts[0]))
    .rotate(270)
    .withMetadata({ orientation: 6 })
    .jpeg({ quality: 95 })
    .toBuffer();
  const measured = await measurePhoto(turned);
  expect(measured.sharpness).toBeGreaterThan(photoBounds.sharpnessLeast);
  expect(measured.hash).toBe(upright.hash);
});
