import fc from 'fast-check';
import { expect, test } from 'vitest';
import { coversAllOf, pixelRectangle, readRegions } from './covering.ts';

const face = { kind: 'face', left: 10, top: 20, width: 30.25, height: 5 };

test('percent become hundredths, and what reaches over the edge is cut off there', () => {
  expect(readRegions([face, { ...face, kind: 'plate', left: 90, width: 40 }])).toEqual({
    ok: true,
    value: [
      { kind: 'face', left: 1000, top: 2000, width: 3025, height: 500 },
      { kind: 'plate', left: 9000, top: 2000, width: 1000, height: 500 },
    ],
  });
});

test.each([
  ['none', []],
  ['more than are taken', Array.from({ length: 41 }, () => face)],
  ['a kind that is not known', [{ ...face, kind: 'dog' }]],
  ['a number outside of the picture', [{ ...face, left: -1 }]],
  ['no number', [{ ...face, top: Number.NaN }]],
  ['a part without width', [{ ...face, width: 0 }]],
  ['a part behind the edge', [{ ...face, left: 100 }]],
])('refused: %s', (_what, regions) => {
  expect(readRegions(regions)).toMatchObject({
    ok: false,
    problem: { code: 'invalid_input', field: 'regions' },
  });
});

test('a new covering holds an earlier one only where each part lies within one of the new parts', () => {
  const earlier = [{ kind: 'face', left: 1000, top: 1000, width: 500, height: 500 }] as const;
  const wider = [{ kind: 'other', left: 900, top: 1000, width: 700, height: 600 }] as const;
  const beside = [{ kind: 'face', left: 1001, top: 1000, width: 500, height: 500 }] as const;
  expect(coversAllOf(wider, earlier)).toBe(true);
  expect(coversAllOf([...beside, ...earlier], earlier)).toBe(true);
  expect(coversAllOf(beside, earlier)).toBe(false);
  expect(coversAllOf([], earlier)).toBe(false);
});

test('the pixels that are covered are within the picture, on the grid, and never less than what was marked', () => {
  const side = fc.integer({ min: 1, max: 9000 });
  const part = fc.integer({ min: 0, max: 9999 });
  fc.assert(
    fc.property(side, side, part, part, part, part, (width, height, left, top, w, h) => {
      const region = {
        left,
        top,
        width: Math.min(w + 1, 10_000 - left),
        height: Math.min(h + 1, 10_000 - top),
      };
      const covered = pixelRectangle(region, { width, height }, 16);
      expect(covered.left % 16).toBe(0);
      expect(covered.top % 16).toBe(0);
      expect(covered.left).toBeLessThanOrEqual((left * width) / 10_000);
      expect(covered.top).toBeLessThanOrEqual((top * height) / 10_000);
      const [right, bottom] = [covered.left + covered.width, covered.top + covered.height];
      expect(right).toBeGreaterThanOrEqual(((left + region.width) * width) / 10_000 - 1e-9);
      expect(bottom).toBeGreaterThanOrEqual(((top + region.height) * height) / 10_000 - 1e-9);
      expect(right).toBeLessThanOrEqual(width);
      expect(bottom).toBeLessThanOrEqual(height);
    }),
  );
});
