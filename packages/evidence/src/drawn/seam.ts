import type { Curve } from './curve.ts';
import { smoothstep, valueNoise } from './noise.ts';
import { add, type Color, type Surface, scale, tint } from './surface.ts';

export interface SeamLook {
  readonly thread: Color;
  /** Distances from the fold at which a row of stitches runs; negative is above or left of it. */
  readonly rows: readonly number[];
}

const pitch = 36;
const stitch = 27;

/** Two pieces sewn together: a fold with soft rolls on both sides, and stitches that pull the cover in. */
export function sew(surface: Surface, line: Curve, look: SeamLook): void {
  line.near(64, (index, distance, along) => {
    if (surface.cover[index] === 0) return;
    const away = Math.abs(distance);
    const pull = 0.86 + 0.14 * Math.cos((2 * Math.PI * along) / pitch);
    add(surface.relief, index, 6.5 * pull * bell(away - 24, 20) - 9 * bell(away, 3.2));
    scale(surface.openness, index, 1 - 0.72 * bell(away, 3.4) - 0.16 * bell(away, 12));
    scale(surface.grain, index, 1 - 0.35 * bell(away, 16));
    for (const row of look.rows) sewRow(surface, index, distance - row, along, look.thread);
  });
}

function sewRow(surface: Surface, index: number, offset: number, along: number, thread: Color): void {
  if (Math.abs(offset) > 14) return;
  add(surface.relief, index, -3.4 * bell(offset, 6));
  const within = (((along % pitch) + pitch) % pitch) - pitch / 2;
  // Thread lies a little aslant, as a lockstitch does.
  const aside = offset + within * 0.07;
  const ends = Math.abs(within) - stitch / 2;
  const holes = bell(ends - 2.5, 2.2) * bell(aside, 3);
  scale(surface.openness, index, 1 - 0.75 * holes - 0.25 * bell(offset, 7));
  const radius = 4.1 * Math.sqrt(Math.max(0, 1 - (2 * within) ** 4 / stitch ** 4));
  const profile = radius * radius - aside * aside;
  if (ends >= 0 || profile <= 0) return;
  const twist = 0.82 + 0.18 * Math.sin(within * 1.9 + aside * 1.1) + 0.1 * (valueNoise(along, offset) - 0.5);
  tint(surface, index, [thread[0] * twist, thread[1] * twist, thread[2] * twist], 1);
  surface.cover[index] = 0;
  add(surface.relief, index, 1.5 * Math.sqrt(profile) + 0.5 * twist);
  scale(surface.grain, index, 0);
  scale(surface.openness, index, 1.25);
}

/** Where one part ends and another begins: a dark gap, both edges rolled off, shadow from the upper part. */
export function gap(surface: Surface, line: Curve, halfWidth: number, roll: number): void {
  line.near(roll + halfWidth + 30, (index, distance) => {
    const away = Math.abs(distance) - halfWidth;
    const inward = Math.min(1, Math.max(0, 1 - away / roll));
    add(surface.relief, index, -roll * 0.42 * (1 - Math.sqrt(1 - 0.97 * inward * inward)));
    const open = 1 - 0.5 * Math.exp(-Math.max(0, away) / (distance > 0 ? 16 : 6));
    // The edge is spread over two pixels, as a lens would.
    scale(surface.openness, index, 0.1 + (open - 0.1) * smoothstep(-1.2, 1.2, away));
    scale(surface.grain, index, smoothstep(0, 6, away));
  });
}

function bell(from: number, spread: number): number {
  const part = from / spread;
  return part * part > 16 ? 0 : Math.exp(-part * part);
}
