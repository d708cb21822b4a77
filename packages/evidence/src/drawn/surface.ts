/** Every drawn picture has this many pixels. */
export const width = 1600;
export const height = 1200;

/** Linear light, 0 to 1 each. */
export type Color = readonly [red: number, green: number, blue: number];

/** What the drawn thing is like at each pixel, before any light falls on it. */
export interface Surface {
  /** Height in pixels of the shape: curves, seams, damage; the grain is not in it. */
  readonly relief: Float32Array;
  /** How deep the grain is there, in pixels. */
  readonly grain: Float32Array;
  /** Color, three numbers a pixel, linear. */
  readonly color: Float32Array;
  readonly gloss: Float32Array;
  /** 1 where the upholstery is, which alone is sewn. */
  readonly cover: Uint8Array;
  /** How much of the surrounding light gets there, 0 to 1. */
  readonly openness: Float32Array;
}

export function blankSurface(): Surface {
  const pixels = width * height;
  return {
    relief: new Float32Array(pixels),
    grain: new Float32Array(pixels),
    color: new Float32Array(pixels * 3),
    gloss: new Float32Array(pixels),
    cover: new Uint8Array(pixels),
    openness: new Float32Array(pixels).fill(1),
  };
}

/** Makes `target` the same as `surface`. */
export function copyInto(target: Surface, surface: Surface): void {
  target.relief.set(surface.relief);
  target.grain.set(surface.grain);
  target.color.set(surface.color);
  target.gloss.set(surface.gloss);
  target.cover.set(surface.cover);
  target.openness.set(surface.openness);
}

/** Mixes a color into the one that is there; `part` 0 leaves it, 1 replaces it. */
export function tint(surface: Surface, index: number, color: Color, part: number): void {
  const { color: all } = surface;
  const at = index * 3;
  const keep = 1 - part;
  all[at] = (all[at] ?? 0) * keep + color[0] * part;
  all[at + 1] = (all[at + 1] ?? 0) * keep + color[1] * part;
  all[at + 2] = (all[at + 2] ?? 0) * keep + color[2] * part;
}

export function scale(values: Float32Array, index: number, factor: number): void {
  values[index] = (values[index] ?? 0) * factor;
}

export function add(values: Float32Array, index: number, amount: number): void {
  values[index] = (values[index] ?? 0) + amount;
}

/** A color written as in a style sheet, `#rrggbb` (sRGB, IEC 61966-2-1), in linear light. */
export function linear(hex: string): Color {
  const channel = (from: number) => {
    const value = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}
