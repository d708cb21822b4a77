import { grainTile, tileSide } from './grain.ts';
import { randomFrom } from './noise.ts';
import { height, type Surface, width } from './surface.ts';

/** Light comes from the left (0.42), from above (0.58) and from the front (0.7). */
export interface Light {
  /** Where the light is brightest, in pixels: a window above the panel. */
  readonly fromX: number;
  readonly fromY: number;
  readonly exposure: number;
}

/**
 * Lets light fall on the surface and takes the picture: 8-bit sRGB, three bytes a pixel, with a sensor's noise. A
 * coarser sensor sees only every second pixel of every second row.
 */
export function expose(
  surface: Surface,
  light: Light,
  seeds: { grain: number; noise: number },
  every: 1 | 2 = 1,
): Uint8ClampedArray {
  const relief = withGrain(surface, seeds.grain);
  const pixels = new Uint8ClampedArray((width / every) * (height / every) * 3);
  const noise = noiseTable(seeds.noise);
  let step = 0;
  let at = 0;
  // The outermost pixels have no neighbor on one side, and are cut off by the lens anyway.
  for (let y = 0; y < height; y += every) {
    const above = y > 0 ? -width : 0;
    const below = y + 1 < height ? width : 0;
    for (let x = 0; x < width; x += every) {
      const index = y * width + x;
      const middle = x < 3 ? index - x + 3 : x + 3 < width ? index : index - x + width - 4;
      const slopeX = ((relief[middle + 1] ?? 0) - (relief[middle - 1] ?? 0)) / 2;
      const slopeY = ((relief[index + below] ?? 0) - (relief[index + above] ?? 0)) / 2;
      const around = ((relief[middle - 3] ?? 0) + (relief[middle + 3] ?? 0)) / 2;
      const hollow = Math.max(-0.22, Math.min(0.1, ((relief[index] ?? 0) - around) * 0.09));
      const length = 1 / Math.sqrt(slopeX * slopeX + slopeY * slopeY + 1);
      const facing = (0.42 * slopeX + 0.58 * slopeY + 0.7) * length;
      const mirror = Math.max(0, (0.228 * slopeX + 0.315 * slopeY + 0.921) * length);
      const open = falloff(x, y, light) * (surface.openness[index] ?? 1) * (1 + hollow);
      const matte = open * (0.26 + 1.1 * Math.max(0, facing));
      const shine = open * glint(mirror * mirror) * (surface.gloss[index] ?? 0);
      step = (step + 1 + (((x * 7) ^ (y * 13)) & 3)) & 65_535;
      const grit = noise[step] ?? 0;
      const { color } = surface;
      const from = index * 3;
      pixels[at] = develop((color[from] ?? 0) * matte + shine, grit + (noise[step ^ 0x1a5] ?? 0) / 2);
      pixels[at + 1] = develop((color[from + 1] ?? 0) * matte + shine, grit + (noise[step ^ 0x2c3] ?? 0) / 2);
      pixels[at + 2] = develop((color[from + 2] ?? 0) * matte + shine, grit + (noise[step ^ 0x4f7] ?? 0) / 2);
      at += 3;
    }
  }
  return pixels;
}

/** A wide soft sheen and a narrow bright one, from the squared cosine to the mirror's direction. */
function glint(squared: number): number {
  const eighth = squared * squared * squared * squared;
  return 0.05 * eighth + 0.3 * eighth * eighth * eighth;
}

function withGrain(surface: Surface, seed: number): Float32Array {
  const tile = grainTile();
  const random = randomFrom(seed ^ 0x51ed);
  const shiftX = Math.floor(random() * tileSide);
  const shiftY = Math.floor(random() * tileSide);
  const relief = new Float32Array(width * height);
  for (let y = 0; y < height; y += 1) {
    const row = ((y + shiftY) & (tileSide - 1)) * tileSide;
    for (let x = 0; x < width; x += 1) {
      const index = y * width + x;
      const grain = tile[row + ((x + shiftX) & (tileSide - 1))] ?? 0;
      relief[index] = (surface.relief[index] ?? 0) + (surface.grain[index] ?? 0) * grain;
    }
  }
  return relief;
}

function falloff(x: number, y: number, light: Light): number {
  const dx = (x - light.fromX) / 1250;
  const dy = (y - light.fromY) / 980;
  const cornerX = (x - width / 2) / width;
  const cornerY = (y - height / 2) / width;
  return (
    light.exposure *
    (0.3 + 1.05 / (1 + dx * dx + dy * dy)) *
    (1 - 0.55 * (cornerX * cornerX + cornerY * cornerY))
  );
}

const curve = toneCurve();

/** The camera's tone curve (shoulder, then the sRGB transfer function), and the sensor's noise, stronger in the dark. */
function develop(value: number, grit: number): number {
  const tone = curve[(value * 2048) | 0] ?? 255;
  return tone + grit * (3.4 - tone * 0.007);
}

function toneCurve(): Float32Array {
  const table = new Float32Array(8192);
  for (let at = 0; at < 8192; at += 1) {
    const value = at / 2048;
    const shouldered = (value * (1 + value * 0.3)) / (1 + value * 0.62);
    const coded = shouldered <= 0.0031308 ? shouldered * 12.92 : 1.055 * shouldered ** (1 / 2.4) - 0.055;
    table[at] = 255 * Math.min(1, coded);
  }
  return table;
}

function noiseTable(seed: number): Float32Array {
  const random = randomFrom(seed ^ 0x9e37);
  const table = new Float32Array(65_536);
  for (let at = 0; at < table.length; at += 1)
    table[at] = (random() + random() + random() + random() - 2) * 1.73;
  return table;
}
