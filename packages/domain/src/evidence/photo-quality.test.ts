import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  differenceHash,
  hammingDistance,
  type Luminance,
  laplacianVariance,
  luminanceOf,
  measurePicture,
  printDifference,
} from './photo-quality.ts';

function picture(width: number, height: number, at: (x: number, y: number) => number): Luminance {
  const pixels = Uint8Array.from({ length: width * height }, (_, index) =>
    at(index % width, Math.floor(index / width)),
  );
  return { width, height, pixels };
}

// By hand from the kernel [[0,1,0],[1,-4,1],[0,1,0]]: one −4, four 1, twenty 0; mean 0, (16 + 4) / 25.
test('the Laplacian of a single bright pixel in 5 by 5 has variance 0.8, that of a flat picture 0', () => {
  expect(laplacianVariance(picture(5, 5, (x, y) => (x === 2 && y === 2 ? 1 : 0)))).toBeCloseTo(0.8, 12);
  expect(laplacianVariance(picture(7, 4, () => 180))).toBe(0);
});

test('a sharp part before a flat background is as sharp as if it filled the picture', () => {
  const checks = (x: number, y: number) => ((x + y) % 2) * 100;
  const filled = measurePicture(picture(120, 120, checks)).sharpness;
  const part = measurePicture(picture(120, 120, (x, y) => (x < 20 && y < 20 ? checks(x, y) : 128)));
  expect(part.sharpness).toBeGreaterThan(filled * 0.9);
});

// ITU-R BT.601: 0.299 R + 0.587 G + 0.114 B.
test('brightness is the luma of BT.601, with and without an alpha channel', () => {
  expect([...luminanceOf(3, 1, Uint8Array.of(255, 0, 0, 0, 255, 0, 0, 0, 255)).pixels]).toEqual([
    76, 150, 29,
  ]);
  expect([...luminanceOf(1, 1, Uint8Array.of(255, 255, 255, 0)).pixels]).toEqual([255]);
});

/** The same again by other means: whole pictures of 9k by 8k pixels, each field summed by plain loops, bits as text. */
function hashAnew({ width, height, pixels }: Luminance): string {
  const [across, down] = [width / 9, height / 8];
  const mean = (column: number, row: number) => {
    let sum = 0;
    for (let y = row * down; y < (row + 1) * down; y += 1)
      for (let x = column * across; x < (column + 1) * across; x += 1) sum += pixels[y * width + x] ?? 0;
    return sum / (across * down);
  };
  const bits = Array.from({ length: 64 }, (_, index) => {
    const [column, row] = [index % 8, Math.floor(index / 8)];
    return mean(column + 1, row) > mean(column, row) ? '1' : '0';
  }).join('');
  return BigInt(`0b${bits}`).toString(16).padStart(16, '0');
}

test('the difference hash is what its definition gives, recomputed another way', () => {
  const sized = fc
    .integer({ min: 1, max: 3 })
    .chain((scale) =>
      fc
        .uint8Array({ minLength: 72 * scale * scale, maxLength: 72 * scale * scale })
        .map((pixels) => ({ width: 9 * scale, height: 8 * scale, pixels })),
    );
  fc.assert(
    fc.property(sized, (each) => {
      expect(differenceHash(each)).toBe(hashAnew(each));
    }),
    { numRuns: 60 },
  );
});

test('a ramp that gets brighter to the right has every bit, one that gets darker none', () => {
  expect(differenceHash(picture(90, 40, (x) => x * 2))).toBe('ffffffffffffffff');
  expect(differenceHash(picture(90, 40, (x) => 200 - x * 2))).toBe('0000000000000000');
});

test('the distance of two hashes is the number of bits that differ', () => {
  expect(hammingDistance('0000000000000000', 'ffffffffffffffff')).toBe(64);
  expect(hammingDistance('00000000000000f0', '0000000000000001')).toBe(5);
  const hash = fc
    .bigInt({ min: 0n, max: 2n ** 64n - 1n })
    .map((value) => value.toString(16).padStart(16, '0'));
  fc.assert(
    fc.property(hash, hash, (one, other) => {
      const bits = (BigInt(`0x${one}`) ^ BigInt(`0x${other}`)).toString(2).replaceAll('0', '').length;
      expect(hammingDistance(one, other)).toBe(bits);
    }),
  );
});

test('shares of dark and of white pixels are counted', () => {
  const halves = measurePicture(picture(64, 64, (x) => (x < 16 ? 255 : x < 48 ? 10 : 128)));
  expect([halves.dark, halves.washedOut]).toEqual([0.5, 0.25]);
});

test('two prints differ by their most different field, whatever the light', () => {
  const base = measurePicture(picture(160, 160, (x) => 40 + x / 2)).print;
  const lighter = measurePicture(picture(160, 160, (x) => 60 + x / 2)).print;
  const marked = measurePicture(picture(160, 160, (x, y) => (x < 10 && y < 10 ? 200 : 40 + x / 2))).print;
  expect(printDifference(base, lighter)).toBeLessThan(1.01);
  expect(printDifference(base, marked)).toBeGreaterThan(100);
  expect(printDifference(base, 'broken')).toBe(255);
});
