import type { Damage } from './damage.ts';
import { smoothstep, valueNoise } from './noise.ts';
import { onCover, type Place } from './place.ts';
import { add, type Color, linear, type Surface, scale, tint } from './surface.ts';

const filler = linear('#8e8b84');

/** Filled, leveled and sanded, not yet grained or colored. */
export function drawFilled(surface: Surface, damage: Damage, place: Place): void {
  const { along, across } = patchOf(damage, place);
  const { seed } = place;
  onCover(surface, place, along + 130, across + 130, (index, u, v) => {
    const ragged =
      16 * (valueNoise(u / 42 + seed, v / 42) - 0.5) + 7 * (valueNoise(u / 11, v / 11 + seed) - 0.5);
    const away = outside(u, v, along, across) + ragged;
    const filled = 1 - smoothstep(-9, 8, away);
    const sanded = 1 - smoothstep(14, 78, away + 14 * (valueNoise(u / 20, v / 60) - 0.5));
    const strokes = valueNoise((u + v * 0.3) / 70 + seed, (v - u * 0.3) / 2.2);
    scale(surface.grain, index, (1 - 0.97 * filled) * (1 - 0.5 * sanded));
    scale(surface.gloss, index, 1 - 0.85 * sanded);
    const dust = sanded * (0.1 + 0.22 * strokes);
    tint(surface, index, [0.42, 0.41, 0.39], dust);
    const tone = 0.9 + 0.12 * strokes + 0.12 * valueNoise(u / 34, v / 34 + seed);
    tint(surface, index, [filler[0] * tone, filler[1] * tone, filler[2] * tone], 0.93 * filled);
    add(surface.relief, index, 1.6 * filled + 0.5 * filled * strokes);
  });
}

/** Finished: what remains is a grain a touch softer and a sheen a touch duller, if one knows where to look. */
export function drawBlended(surface: Surface, damage: Damage, place: Place, cover: Color): void {
  const { along, across } = patchOf(damage, place);
  onCover(surface, place, along + 200, across + 200, (index, u, v) => {
    const part = 1 - smoothstep(-20, 150, outside(u, v, along, across));
    const lighter: Color = [cover[0] * 1.05, cover[1] * 1.05, cover[2] * 1.04];
    tint(surface, index, lighter, 0.35 * part);
    scale(surface.grain, index, 1 - 0.14 * part);
    scale(surface.gloss, index, 1 - 0.25 * part);
    add(surface.relief, index, 0.5 * part * valueNoise(u / 26, v / 26));
  });
}

/** Half the length and half the width of the place that has to be filled, in pixels. */
export function patchOf(damage: Damage, { reach }: Place): { along: number; across: number } {
  const wide: Readonly<Record<Damage, number>> = {
    cut: 0,
    tear: 0.3,
    crack: 0.24,
    burn: 1,
    shrink_hole: 0.62,
    wrinkle: 0.3,
    scuff: 0.42,
    wear: 0.55,
  };
  return { along: reach + 22, across: reach * wide[damage] + 34 };
}

/** Pixels outside a rounded oblong around the middle; negative inside. */
function outside(u: number, v: number, along: number, across: number): number {
  const corner = Math.min(along, across);
  const overU = Math.max(0, Math.abs(u) - along + corner);
  const overV = Math.max(0, Math.abs(v) - across + corner);
  return Math.hypot(overU, overV) - corner;
}
