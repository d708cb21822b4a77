import { ok, type Result, refuse } from '../result.ts';

/** What is covered in a photo, with its name on pages. */
export const coveringKinds = {
  face: 'face',
  plate: 'license plate',
  address: 'address or name',
  other: 'something else',
} as const satisfies Record<string, string>;

export type CoveringKind = keyof typeof coveringKinds;

/** A rectangle of the upright picture, in hundredths of a percent of its width and height. */
export interface CoveredRegion {
  readonly kind: CoveringKind;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A rectangle as somebody gave it, in percent. */
export interface RegionInput {
  readonly kind: string;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export const regionsMax = 40;
const whole = 10_000;

/**
 * Rectangles in percent, to two decimals, as they are kept; what reaches over the edge is cut off there. Refuses with
 * `invalid_input` and the field `regions` none at all, too many, an unknown kind, and one that covers nothing.
 */
export function readRegions(inputs: readonly RegionInput[]): Result<readonly CoveredRegion[]> {
  if (inputs.length === 0)
    return refuse('invalid_input', 'Mark at least one part of the picture to cover.', 'regions');
  if (inputs.length > regionsMax)
    return refuse('invalid_input', `Mark at most ${regionsMax} parts; larger ones cover more.`, 'regions');
  const regions: CoveredRegion[] = [];
  for (const [index, input] of inputs.entries()) {
    const region = readRegion(input, index + 1);
    if (!region.ok) return region;
    regions.push(region.value);
  }
  return ok(regions);
}

function readRegion(input: RegionInput, position: number): Result<CoveredRegion> {
  const { kind } = input;
  if (!isKind(kind))
    return refuse(
      'invalid_input',
      `Part ${position}: choose what is covered: ${Object.values(coveringKinds).join(', ')}.`,
      'regions',
    );
  const sides = [input.left, input.top, input.width, input.height];
  if (!sides.every((side) => Number.isFinite(side) && side >= 0 && side <= 100))
    return refuse('invalid_input', `Part ${position}: write each number from 0 to 100 percent.`, 'regions');
  const [left, top, right, bottom] = [
    input.left,
    input.top,
    Math.min(100, input.left + input.width),
    Math.min(100, input.top + input.height),
  ].map((percent) => Math.round(percent * 100));
  if (left === undefined || top === undefined || right === undefined || bottom === undefined)
    throw new Error('four sides');
  if (right <= left || bottom <= top)
    return refuse('invalid_input', `Part ${position} covers nothing: make it wider and higher.`, 'regions');
  return ok({ kind, left, top, width: right - left, height: bottom - top });
}

function isKind(text: string): text is CoveringKind {
  return Object.hasOwn(coveringKinds, text);
}

/** Whether nothing that `earlier` covers is laid open by `next`: each rectangle lies within one of the new ones. */
export function coversAllOf(next: readonly CoveredRegion[], earlier: readonly CoveredRegion[]): boolean {
  return earlier.every((old) =>
    next.some(
      (region) =>
        region.left <= old.left &&
        region.top <= old.top &&
        region.left + region.width >= old.left + old.width &&
        region.top + region.height >= old.top + old.height,
    ),
  );
}

export interface PixelRectangle {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The pixels to cover: never less than what was marked, and out to the next multiple of `grid`, so that the blocks in
 * which a JPEG is written are covered as a whole or not at all.
 */
export function pixelRectangle(
  region: Omit<CoveredRegion, 'kind'>,
  picture: { readonly width: number; readonly height: number },
  grid: number,
): PixelRectangle {
  const across = span(region.left, region.width, picture.width, grid);
  const down = span(region.top, region.height, picture.height, grid);
  return { left: across.from, top: down.from, width: across.length, height: down.length };
}

function span(start: number, length: number, pixels: number, grid: number) {
  const from = Math.floor((start * pixels) / whole / grid) * grid;
  const to = Math.min(pixels, Math.ceil(((start + length) * pixels) / whole / grid) * grid);
  return { from, length: to - from };
}
