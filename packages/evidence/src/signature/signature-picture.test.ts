import { createHash } from 'node:crypto';
import { inflateSync } from 'node:zlib';
import type { Stroke } from '@grainwright/domain';
import fc from 'fast-check';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { deflateRuns } from './run-deflate.ts';
import { signaturePicture } from './signature-picture.ts';

const loop: Stroke = [
  { x: 10, y: 60, t: 0 },
  { x: 80, y: 12, t: 60 },
  { x: 150, y: 60, t: 120 },
];
const dot: Stroke = [{ x: 170, y: 40, t: 200 }];

/** As another program reads it: libvips, through sharp. */
async function decoded(strokes: readonly Stroke[]) {
  const { data, info } = await sharp(signaturePicture(strokes))
    .grayscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const at = (x: number, y: number) => data[(y * info.width + x) * info.channels];
  return { info, at };
}

test('a drawn signature is a picture that other programs read, in the shape it was drawn', async () => {
  const { info, at } = await decoded([loop, dot]);
  expect([info.width, info.height]).toEqual([640, 240]);
  // 160 wide and 48 high: enlarged by 3.8, and in the middle. The peak, the left foot, the dot; and none between the feet.
  expect(at(320 - 38, 31)).toBe(0);
  expect(at(18, 120 + 90)).toBe(0);
  expect(at(622, 120 + 15)).toBe(0);
  expect(at(320 - 38, 190)).toBe(255);
  expect(at(0, 0)).toBe(255);
});

test('the same strokes are the same bytes, and others are others', () => {
  const digest = (strokes: readonly Stroke[]) =>
    createHash('sha256').update(signaturePicture(strokes)).digest('hex');
  expect(digest([loop, dot])).toBe(digest(structuredClone([loop, dot])));
  expect(digest([loop])).not.toBe(digest([loop, dot]));
  expect(signaturePicture([loop, dot]).length).toBeLessThan(20_000);
});

test('a scrawl of 2,000 lines across the whole pad is drawn as well', async () => {
  const corner = (index: number) => ({
    x: index % 2 === 0 ? -10_000 : 10_000,
    y: (index * 37) % 10_000,
    t: index,
  });
  const { info } = await decoded([Array.from({ length: 2_000 }, (_, index) => corner(index))]);
  expect(info.width).toBe(640);
});

test('whatever is compressed, an independent program gets back (RFC 1950, RFC 1951)', () => {
  const runs = fc.array(fc.tuple(fc.integer({ min: 0, max: 255 }), fc.integer({ min: 1, max: 700 })), {
    maxLength: 40,
  });
  fc.assert(
    fc.property(runs, (parts) => {
      const bytes = Buffer.concat(parts.map(([value, count]) => Buffer.alloc(count, value)));
      expect(inflateSync(deflateRuns(bytes)).equals(bytes)).toBe(true);
    }),
  );
});
