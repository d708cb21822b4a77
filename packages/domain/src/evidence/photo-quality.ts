/**
 * A picture reduced to 8-bit brightness, row by row. All measures are taken on one whose longer side is at most
 * `measuredSide`, so that the phone and the server, which hold different sizes, come to nearly the same.
 */
export interface Luminance {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array | Uint8ClampedArray;
}

/** Pixels of the longer side of what is measured. */
export const measuredSide = 512;

export interface PhotoMeasures {
  /** Variance of the Laplacian where it is largest among the picture's fields; in squared steps of brightness. */
  readonly sharpness: number;
  /** Share of pixels that show next to nothing, 0 to 1. */
  readonly dark: number;
  /** Share of pixels that are as bright as can be, 0 to 1. */
  readonly washedOut: number;
  /** 64-bit difference hash, 16 hex digits. */
  readonly hash: string;
  /** Brightness of 32 by 32 fields, two hex digits each: what tells a copy from the same place photographed later. */
  readonly print: string;
}

export function measurePicture(picture: Luminance): PhotoMeasures {
  return {
    sharpness: sharpestField(picture),
    dark: shareOf(picture, (value) => value <= darkAtMost),
    washedOut: shareOf(picture, (value) => value >= washedOutFrom),
    hash: differenceHash(picture),
    print: fieldPrint(picture),
  };
}

/** Luma of ITU-R BT.601 from pixels of three or four channels, as canvases and decoders hand them over. */
export function luminanceOf(
  width: number,
  height: number,
  colors: Uint8Array | Uint8ClampedArray,
): Luminance {
  const channels = colors.length / (width * height);
  const pixels = new Uint8Array(width * height);
  for (let index = 0; index < pixels.length; index += 1) {
    const at = index * channels;
    pixels[index] = Math.round(
      0.299 * (colors[at] ?? 0) + 0.587 * (colors[at + 1] ?? 0) + 0.114 * (colors[at + 2] ?? 0),
    );
  }
  return { width, height, pixels };
}

/**
 * How much edges stand out: the variance of the Laplacian [[0,1,0],[1,-4,1],[0,1,0]], the outermost pixels repeated
 * outward. A measure of focus of Pech-Pacheco et al., “Diatom autofocusing in brightfield microscopy” (ICPR 2000).
 */
export function laplacianVariance(picture: Luminance): number {
  return largestVariance(picture, 1);
}

/** Of 6 by 6 fields the sharpest: a sharp part before a smooth or distant background is a sharp photo. */
function sharpestField(picture: Luminance): number {
  return largestVariance(picture, 6);
}

function largestVariance({ width, height, pixels }: Luminance, across: number): number {
  const fields = Array.from({ length: across ** 2 }, () => new Moments());
  for (let y = 0; y < height; y += 1) {
    const here = y * width;
    const above = y === 0 ? here : here - width;
    const below = y === height - 1 ? here : here + width;
    const row = Math.floor((y * across) / height) * across;
    for (let x = 0; x < width; x += 1) {
      const around =
        (pixels[above + x] ?? 0) +
        (pixels[below + x] ?? 0) +
        (pixels[here + Math.max(0, x - 1)] ?? 0) +
        (pixels[here + Math.min(width - 1, x + 1)] ?? 0);
      fields[row + Math.floor((x * across) / width)]?.add(around - 4 * (pixels[here + x] ?? 0));
    }
  }
  return Math.max(0, ...fields.map((field) => field.variance()));
}

class Moments {
  #count = 0;
  #sum = 0;
  #squares = 0;

  add(value: number): void {
    this.#count += 1;
    this.#sum += value;
    this.#squares += value * value;
  }

  variance(): number {
    if (this.#count === 0) return 0;
    const mean = this.#sum / this.#count;
    return Math.max(0, this.#squares / this.#count - mean * mean);
  }
}

const darkAtMost = 40;
const washedOutFrom = 250;

function shareOf({ pixels }: Luminance, holds: (value: number) => boolean): number {
  let count = 0;
  for (const value of pixels) if (holds(value)) count += 1;
  return pixels.length === 0 ? 0 : count / pixels.length;
}

/** For each of 8 by 8 places, row by row, whether the one to its right is brighter: the highest bit is the first. */
export function differenceHash(picture: Luminance): string {
  const fields = averaged(picture, 9, 8);
  let hash = '';
  for (let row = 0; row < 8; row += 1) {
    let bits = 0;
    for (let column = 0; column < 8; column += 1) {
      const at = row * 9 + column;
      bits = bits * 2 + ((fields[at + 1] ?? 0) > (fields[at] ?? 0) ? 1 : 0);
    }
    hash += bits.toString(16).padStart(2, '0');
  }
  return hash;
}

/** In how many of the 64 bits two hashes differ. */
export function hammingDistance(one: string, other: string): number {
  let differing = 0;
  for (let index = 0; index < Math.max(one.length, other.length); index += 1) {
    const difference = digit(one, index) ^ digit(other, index);
    for (let bits = difference; bits > 0; bits >>= 1) differing += bits & 1;
  }
  return differing;
}

function digit(hash: string, index: number): number {
  const value = Number.parseInt(hash.charAt(index), 16);
  return Number.isNaN(value) ? 0 : value;
}

const printSide = 32;

function fieldPrint(picture: Luminance): string {
  return averaged(picture, printSide, printSide)
    .map((value) => Math.round(value).toString(16).padStart(2, '0'))
    .join('');
}

/** By how many steps of brightness the most different of the fields of two prints differ, their overall brightness set equal. */
export function printDifference(one: string, other: string): number {
  const [first, second] = [fieldsOf(one), fieldsOf(other)];
  if (first.length === 0 || first.length !== second.length) return 255;
  const shift = first.reduce((sum, value, at) => sum + value - (second[at] ?? 0), 0) / first.length;
  return Math.max(...first.map((value, at) => Math.abs(value - (second[at] ?? 0) - shift)));
}

function fieldsOf(print: string): readonly number[] {
  return (print.match(/[0-9a-f]{2}/g) ?? []).map((pair) => Number.parseInt(pair, 16));
}

/** Mean brightness of as many fields as asked for, row by row; a pixel counts for each field by the share that lies in it. */
function averaged({ width, height, pixels }: Luminance, columns: number, rows: number): number[] {
  const across = shares(width, columns);
  const down = shares(height, rows);
  const means: number[] = [];
  for (const vertical of down)
    for (const horizontal of across) {
      let sum = 0;
      let weight = 0;
      for (const [y, partOfRow] of vertical)
        for (const [x, part] of horizontal) {
          sum += partOfRow * part * (pixels[y * width + x] ?? 0);
          weight += partOfRow * part;
        }
      means.push(weight === 0 ? 0 : sum / weight);
    }
  return means;
}

/** Which pixels of a side lie in each of its fields, and how much of each. */
function shares(length: number, fields: number): (readonly [number, number])[][] {
  return Array.from({ length: fields }, (_, field) => {
    const [from, to] = [(field * length) / fields, ((field + 1) * length) / fields];
    const inside: (readonly [number, number])[] = [];
    for (let pixel = Math.floor(from); pixel < to; pixel += 1)
      inside.push([pixel, Math.min(to, pixel + 1) - Math.max(from, pixel)]);
    return inside;
  });
}
