/** Where the pen was, in pixels of the picture. */
export interface InkPoint {
  readonly x: number;
  readonly y: number;
}

/** Half the width of a stroke, in pixels. */
const inkRadius = 2.5;

/**
 * Draws strokes with a round pen: a byte for each pixel, row by row, 255 where there is no ink. Only additions,
 * multiplications, divisions and square roots, which are the same on every machine (IEEE 754).
 */
export function drawStrokes(
  strokes: readonly (readonly InkPoint[])[],
  width: number,
  height: number,
): Uint8Array {
  const pixels = new Uint8Array(width * height).fill(255);
  const canvas = { pixels, width, height };
  for (const stroke of strokes)
    for (const [index, point] of stroke.entries()) drawSegment(canvas, stroke[index - 1] ?? point, point);
  return pixels;
}

interface Canvas {
  readonly pixels: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** A line with round ends; a dot where both are the same. */
function drawSegment(canvas: Canvas, from: InkPoint, to: InkPoint): void {
  const reach = inkRadius + 1;
  const firstRow = Math.max(0, Math.floor(Math.min(from.y, to.y) - reach));
  const lastRow = Math.min(canvas.height - 1, Math.ceil(Math.max(from.y, to.y) + reach));
  for (let row = firstRow; row <= lastRow; row += 1) {
    const [left, right] = touched(from, to, row + 0.5, reach);
    const first = Math.max(0, Math.floor(left));
    const last = Math.min(canvas.width - 1, Math.ceil(right));
    for (let column = first; column <= last; column += 1) {
      const away = distance({ x: column + 0.5, y: row + 0.5 }, from, to);
      const ink = Math.min(1, Math.max(0, inkRadius + 0.5 - away));
      const at = row * canvas.width + column;
      canvas.pixels[at] = Math.min(canvas.pixels[at] ?? 255, Math.round(255 * (1 - ink)));
    }
  }
}

/** Between which columns a row can have ink of a line: a long one is not looked for in all of its frame. */
function touched(from: InkPoint, to: InkPoint, y: number, reach: number): readonly [number, number] {
  const rise = to.y - from.y;
  const run = to.x - from.x;
  const part = (at: number) => (rise === 0 ? 0 : Math.min(1, Math.max(0, (at - from.y) / rise)));
  if (rise === 0) return [Math.min(from.x, to.x) - reach, Math.max(from.x, to.x) + reach];
  const ends = [part(y - reach), part(y + reach)].map((at) => from.x + run * at);
  return [Math.min(...ends) - reach, Math.max(...ends) + reach];
}

function distance(point: InkPoint, from: InkPoint, to: InkPoint): number {
  const run = to.x - from.x;
  const rise = to.y - from.y;
  const length = run * run + rise * rise;
  const along = length === 0 ? 0 : ((point.x - from.x) * run + (point.y - from.y) * rise) / length;
  const at = Math.min(1, Math.max(0, along));
  const dx = point.x - from.x - run * at;
  const dy = point.y - from.y - rise * at;
  return Math.sqrt(dx * dx + dy * dy);
}
