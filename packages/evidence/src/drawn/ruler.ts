import { smoothstep, valueNoise } from './noise.ts';
import { around, type Place } from './place.ts';
import { linear, type Surface, scale, tint } from './surface.ts';

const plate = linear('#d9d8d2');
const ink = linear('#141414');
const rulerWidth = 118;
const lead = 26;

/** Lays a ruler in inches along the damage, its zero at the damage's left end, and its shadow on the panel. */
export function layRuler(surface: Surface, place: Place, clearance: number): void {
  const { reach, pixelsPerInch } = place;
  const inches = Math.ceil((2 * reach) / pixelsPerInch) + 1;
  const start = -reach - lead;
  const end = -reach + inches * pixelsPerInch + lead;
  const half = Math.max(-start, end) + 40;
  around(place, half, clearance + rulerWidth + 40, (index, u, v) => {
    const down = v - clearance;
    const shadow = outsideBox(u - 9, down - 11, start, end);
    if (shadow < 16) scale(surface.openness, index, 1 - 0.62 * (1 - smoothstep(-6, 16, shadow)));
    if (outsideBox(u, down, start, end) > 0) return;
    const fromEdge = Math.min(down, rulerWidth - down, u - start, end - u);
    surface.openness[index] = 0.94 + 0.05 * valueNoise(u / 90, down / 300) + (fromEdge < 2 ? 0.12 : 0);
    surface.grain[index] = 0;
    surface.gloss[index] = 0.35;
    surface.relief[index] = 0.02 * down + 0.4 * valueNoise(u / 2, down / 40);
    tint(surface, index, plate, 1);
    const mark = Math.max(
      tick(u + reach, down, pixelsPerInch, inches),
      numeral(u + reach, down, pixelsPerInch, inches),
    );
    tint(surface, index, ink, 0.9 * mark);
  });
}

function outsideBox(u: number, down: number, start: number, end: number): number {
  const overU = Math.max(start - u, u - end);
  const overV = Math.max(-down, down - rulerWidth);
  return overU > 0 && overV > 0 ? Math.hypot(overU, overV) : Math.max(overU, overV);
}

/** Sixteenths, longer for eighths, quarters, halves and whole inches. */
function tick(from: number, down: number, pixelsPerInch: number, inches: number): number {
  const sixteenth = Math.round((from / pixelsPerInch) * 16);
  if (sixteenth < 0 || sixteenth > inches * 16) return 0;
  const away = Math.abs(from - (sixteenth * pixelsPerInch) / 16);
  const length =
    sixteenth % 16 === 0
      ? 56
      : sixteenth % 8 === 0
        ? 42
        : sixteenth % 4 === 0
          ? 32
          : sixteenth % 2 === 0
            ? 22
            : 15;
  return down < length ? 1 - smoothstep(0.7, 1.7, away) : 0;
}

/** Strokes of each numeral as corner points in a box one wide and two high. */
const strokes: Readonly<Record<string, readonly (readonly [number, number])[]>> = {
  0: [
    [0.5, 0],
    [0.1, 0.4],
    [0, 1],
    [0.1, 1.6],
    [0.5, 2],
    [0.9, 1.6],
    [1, 1],
    [0.9, 0.4],
    [0.5, 0],
  ],
  1: [
    [0.2, 0.4],
    [0.55, 0],
    [0.55, 2],
  ],
  2: [
    [0.05, 0.5],
    [0.25, 0.1],
    [0.75, 0.1],
    [0.95, 0.5],
    [0.8, 1],
    [0, 2],
    [1, 2],
  ],
  3: [
    [0.05, 0.3],
    [0.4, 0],
    [0.9, 0.3],
    [0.85, 0.75],
    [0.45, 0.95],
    [0.95, 1.25],
    [0.95, 1.7],
    [0.5, 2],
    [0, 1.7],
  ],
  4: [
    [0.8, 2],
    [0.8, 0],
    [0, 1.35],
    [1.1, 1.35],
  ],
  5: [
    [0.9, 0],
    [0.15, 0],
    [0.1, 0.9],
    [0.6, 0.8],
    [0.98, 1.2],
    [0.9, 1.75],
    [0.4, 2],
    [0, 1.75],
  ],
  6: [
    [0.8, 0],
    [0.25, 0.6],
    [0.02, 1.3],
    [0.2, 1.9],
    [0.75, 1.95],
    [0.98, 1.4],
    [0.6, 0.95],
    [0.1, 1.15],
  ],
  7: [
    [0, 0],
    [1, 0],
    [0.35, 2],
  ],
  8: [
    [0.5, 0.9],
    [0.1, 0.45],
    [0.5, 0],
    [0.9, 0.45],
    [0.5, 0.9],
    [0.02, 1.45],
    [0.5, 2],
    [0.98, 1.45],
    [0.5, 0.9],
  ],
  9: [
    [0.95, 0.8],
    [0.5, 1.05],
    [0.05, 0.6],
    [0.3, 0.05],
    [0.8, 0.1],
    [0.98, 0.7],
    [0.75, 1.4],
    [0.2, 2],
  ],
};

function numeral(from: number, down: number, pixelsPerInch: number, inches: number): number {
  const inch = Math.round((from + 17) / pixelsPerInch);
  if (inch < 0 || inch > inches) return 0;
  // Left of its tick's foot, as on a machinist's rule; zero stays on the plate.
  const x = (from - inch * pixelsPerInch + (inch === 0 ? -4 : 22)) / 15;
  const y = (down - 66) / 16;
  const corners = strokes[String(inch % 10)] ?? [];
  let nearest = 9;
  for (let at = 1; at < corners.length; at += 1)
    nearest = Math.min(nearest, toStroke(x, y, corners[at - 1], corners[at]));
  return 1 - smoothstep(0.1, 0.24, nearest);
}

type Corner = readonly [number, number] | undefined;

function toStroke(x: number, y: number, from: Corner, to: Corner): number {
  if (from === undefined || to === undefined) return 9;
  const [spanX, spanY] = [to[0] - from[0], to[1] - from[1]];
  const part = ((x - from[0]) * spanX + (y - from[1]) * spanY) / (spanX * spanX + spanY * spanY);
  const on = Math.min(1, Math.max(0, part));
  return Math.hypot(x - from[0] - on * spanX, y - from[1] - on * spanY);
}
