import type { Stroke } from '@grainwright/domain';
import { grayPng } from './gray-png.ts';
import { drawStrokes, type InkPoint } from './stroke-raster.ts';

const widthPixels = 640;
const heightPixels = 240;
const marginPixels = 16;
/** A drawing is enlarged no more than this, so that a dot stays a dot. */
const enlargedMax = 4;

/**
 * A drawn signature as a picture: black on white, 640 × 240 pixels, PNG. The same strokes give the same bytes on every
 * machine and with every version of what this runs on: nothing in it is left to a library.
 */
export function signaturePicture(strokes: readonly Stroke[]): Uint8Array {
  const lines = fitted(strokes.filter((stroke) => stroke.length > 0));
  return grayPng(drawStrokes(lines, widthPixels, heightPixels), widthPixels, heightPixels);
}

/** As large as the picture takes it, in its middle. */
function fitted(strokes: readonly Stroke[]): readonly (readonly InkPoint[])[] {
  const points = strokes.flat();
  if (points.length === 0) return [];
  const [left, right] = extent(points.map(({ x }) => x));
  const [top, bottom] = extent(points.map(({ y }) => y));
  const scale = Math.min(
    enlargedMax,
    (widthPixels - 2 * marginPixels) / Math.max(right - left, 1),
    (heightPixels - 2 * marginPixels) / Math.max(bottom - top, 1),
  );
  const middle = { x: (left + right) / 2, y: (top + bottom) / 2 };
  return strokes.map((stroke) =>
    stroke.map(({ x, y }) => ({
      x: (x - middle.x) * scale + widthPixels / 2,
      y: (y - middle.y) * scale + heightPixels / 2,
    })),
  );
}

function extent(values: readonly number[]): readonly [number, number] {
  return values.reduce<readonly [number, number]>(
    ([least, most], value) => [Math.min(least, value), Math.max(most, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}
