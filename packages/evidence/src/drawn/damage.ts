import { smoothstep, valueNoise } from './noise.ts';
import { onCover, type Place } from './place.ts';
import { add, type Color, linear, type Surface, scale, tint } from './surface.ts';

export type Damage = 'cut' | 'tear' | 'crack' | 'burn' | 'shrink_hole' | 'wrinkle' | 'scuff' | 'wear';

const foam = linear('#7d7566');
const backing = linear('#b9b2a2');
const char = linear('#17110d');
const scorched = linear('#33221a');

/** Draws damage into the surface; `wrinkle` by itself is what a lifted cover shows around a cut. */
export function drawDamage(surface: Surface, damage: Damage, place: Place, cover: Color): void {
  draw[damage](surface, place, cover);
}

const draw: Readonly<Record<Damage, (surface: Surface, place: Place, cover: Color) => void>> = {
  cut: (surface, place, cover) => slit(surface, place, cover, { halfWidth: 7, jagged: 1.6 }),
  tear,
  crack,
  burn,
  shrink_hole: shrinkHole,
  wrinkle,
  scuff,
  wear,
};

/** Long soft ridges beside each other, as a cover lies when it has come off its backing. */
function wrinkle(surface: Surface, place: Place): void {
  const { reach, seed } = place;
  const spread = Math.max(90, reach * 0.55);
  onCover(surface, place, reach * 1.7, spread * 2.4, (index, u, v) => {
    const envelope = Math.exp(-((u / (reach * 0.85)) ** 2) - (v / spread) ** 2);
    if (envelope < 0.01) return;
    const bend = 34 * (valueNoise(u / 170 + seed, v / 400) - 0.5);
    const phase = (v + bend) / 17 + 1.3 * valueNoise(u / 240, v / 90 + seed);
    const ridge = Math.sin(phase) + 0.35 * Math.sin(2 * phase + 0.7);
    const broken = 0.45 + 0.75 * valueNoise(u / 130 + seed, v / 60 + 9);
    add(surface.relief, index, 17 * envelope * broken * ridge);
  });
}

interface Edge {
  readonly halfWidth: number;
  readonly jagged: number;
}

/** A line opened through the cover: lips that stand up a little, the cover's raw edge, dark foam below. */
function slit(surface: Surface, place: Place, cover: Color, { halfWidth, jagged }: Edge): void {
  const { reach, seed } = place;
  onCover(surface, place, reach + 6, 70, (index, u, v) => {
    const part = u / reach;
    const open = Math.sqrt(Math.max(0, 1 - part * part)) * (0.7 + 0.6 * valueNoise(u / 46 + seed, 3));
    const middle =
      15 * (valueNoise(u / 95 + seed, 1) - 0.5) + jagged * 2 * (valueNoise(u / 7 + seed, 5) - 0.5);
    const away = Math.abs(v - middle) - halfWidth * open;
    opened(surface, index, { away, above: v < middle, open, halfWidth }, cover, u, v);
  });
}

interface Opening {
  /** Pixels outside the opening's edge; negative inside. */
  readonly away: number;
  readonly above: boolean;
  readonly open: number;
  readonly halfWidth: number;
}

function opened(surface: Surface, index: number, at: Opening, cover: Color, u: number, v: number): void {
  const { away, above, open, halfWidth } = at;
  if (open <= 0.02) return;
  if (away < 0) {
    const depth = Math.min(1, -away / Math.max(2, halfWidth * 0.5));
    const crumb = 0.55 + 0.9 * valueNoise(u / 2.6, v / 2.6);
    tint(surface, index, [foam[0] * crumb, foam[1] * crumb, foam[2] * crumb], Math.min(1, 0.5 + depth));
    scale(surface.openness, index, 0.5 - 0.38 * depth);
    add(surface.relief, index, -7 * depth + 3 * valueNoise(u / 4, v / 4));
    scale(surface.grain, index, 0);
    scale(surface.gloss, index, 0);
    return;
  }
  const lip = Math.exp(-((away / 15) ** 2)) * open;
  add(surface.relief, index, (above ? 3.2 : 5) * lip);
  if (away < 2.6) {
    const raw: Color = [cover[0] * 1.35 + 0.035, cover[1] * 1.35 + 0.033, cover[2] * 1.35 + 0.03];
    tint(surface, index, raw, 0.75 * open * (1 - away / 2.6));
  }
  scale(surface.grain, index, 1 - 0.25 * lip);
}

/** A flap torn loose: a bent opening, wide at its corner, with a curled edge that throws a shadow. */
function tear(surface: Surface, place: Place, cover: Color): void {
  const { reach, seed } = place;
  onCover(surface, place, reach + 20, reach * 0.8 + 60, (index, u, v) => {
    const part = u / reach;
    if (Math.abs(part) > 1) return;
    const ragged = 7 * (valueNoise(u / 9 + seed, 2) - 0.5) + 3 * (valueNoise(u / 3, seed) - 0.5);
    const upper = -reach * 0.14 * (1 - part * part) + ragged;
    const droop = (1 - Math.abs(part) ** 1.6) * (0.5 + 0.25 * Math.sin(part * 2.4 + 0.6));
    const lower = upper + reach * 0.42 * droop + 4 * (valueNoise(u / 11 + seed, 8) - 0.5);
    const inside = Math.min(v - upper, lower - v);
    const halfWidth = Math.max(3, (lower - upper) / 2);
    const above = v < (upper + lower) / 2;
    opened(
      surface,
      index,
      { away: -inside, above, open: Math.min(1, droop * 3), halfWidth: 14 },
      cover,
      u,
      v,
    );
    if (inside > 0) weave(surface, index, { inside, shadow: v - upper, halfWidth }, u, v);
    const curl = v - lower;
    if (curl > 0 && curl < 26) curledEdge(surface, index, curl / 26, droop, cover);
  });
}

/** Below a wide opening one sees the knitted backing, shadowed by the edge above. */
function weave(
  surface: Surface,
  index: number,
  { inside, shadow, halfWidth }: { inside: number; shadow: number; halfWidth: number },
  u: number,
  v: number,
): void {
  const knit =
    0.62 + 0.2 * Math.sin(u * 0.9) * Math.sin(v * 0.9 + Math.sin(u * 0.45)) + 0.4 * valueNoise(u / 5, v / 5);
  const show = smoothstep(4, 12, inside) * smoothstep(8, 20, halfWidth);
  tint(surface, index, [backing[0] * knit, backing[1] * knit, backing[2] * knit], show);
  const light = 0.3 + 0.55 * smoothstep(2, 46, shadow);
  surface.openness[index] = (surface.openness[index] ?? 1) * (1 - show) + light * show;
  add(surface.relief, index, show * (3 + 1.1 * Math.sin(u * 0.9) * Math.sin(v * 0.9)));
}

function curledEdge(surface: Surface, index: number, part: number, droop: number, cover: Color): void {
  add(surface.relief, index, 15 * Math.min(1, droop * 2.5) * Math.sin(Math.PI * part) * (1 - part));
  if (part < 0.16)
    tint(surface, index, [cover[0] * 1.5 + 0.03, cover[1] * 1.5 + 0.03, cover[2] * 1.5 + 0.03], 0.6);
}

/** A line that wanders and forks, as in a dash that the sun has made brittle. */
function crack(surface: Surface, place: Place, cover: Color): void {
  const { reach, seed } = place;
  const wander = (u: number, row: number) =>
    46 * (valueNoise(u / 120 + seed, row) - 0.5) +
    18 * (valueNoise(u / 31 + seed, row + 4) - 0.5) +
    5 * (valueNoise(u / 6 + seed, row + 8) - 0.5);
  const branches = [
    { from: -1, to: 1, slope: 0, row: 1, wide: 4.6 },
    { from: 0.12, to: 0.72, slope: 0.62, row: 1, wide: 2.6 },
    { from: -0.44, to: 0.06, slope: -0.48, row: 1, wide: 2.2 },
  ];
  for (const { from, to, slope, row, wide } of branches) {
    onCover(surface, place, reach + 4, reach * 0.5 + 60, (index, u, v) => {
      const part = (u / reach - from) / (to - from);
      if (part < 0 || part > 1) return;
      const along = (u / reach - from) * reach * slope;
      const middle =
        wander(u, row) + along + (slope === 0 ? 0 : 16 * (valueNoise(u / 40, row + seed) - 0.5) * part);
      const taper = slope === 0 ? Math.sqrt(1 - (2 * part - 1) ** 2) : 1 - part;
      const open = taper * (0.55 + 0.9 * valueNoise(u / 18 + seed, row + 2));
      const away = (Math.abs(v - middle) - wide * open) / Math.hypot(1, slope);
      if (away < 34) opened(surface, index, { away, above: v < middle, open, halfWidth: wide }, cover, u, v);
    });
  }
}

/** Melted through in the middle, a glossy bead around it, scorched and smoothed beyond. */
function burn(surface: Surface, place: Place): void {
  const { reach, seed } = place;
  onCover(surface, place, reach * 2, reach * 2, (index, u, v) => {
    const bearing = Math.atan2(v, u);
    const uneven =
      1 + 0.22 * (valueNoise(Math.cos(bearing) * 1.7 + 9 + seed, Math.sin(bearing) * 1.7 + 9) - 0.5);
    const out = Math.hypot(u, v * 1.12) / (reach * 0.62 * uneven) + 0.1 * (valueNoise(u / 8, v / 8) - 0.5);
    const heat = 1 - smoothstep(0.9, 2.3, out);
    tint(surface, index, scorched, 0.92 * heat * heat);
    scale(surface.grain, index, 1 - 0.95 * smoothstep(0, 0.75, heat));
    scale(surface.gloss, index, 1 - 0.45 * heat);
    add(
      surface.relief,
      index,
      11 * Math.exp(-(((out - 1.12) / 0.2) ** 2)) * (0.7 + 0.6 * valueNoise(u / 14, v / 14)),
    );
    if (out > 1.06) return;
    const inside = smoothstep(0, 0.3, 1.06 - out);
    const ash = 0.6 + 1.3 * valueNoise(u / 4, v / 4) ** 2;
    tint(surface, index, [char[0] * ash, char[1] * ash, char[2] * ash], 0.5 + 0.5 * inside);
    add(surface.relief, index, -16 * inside + 5 * valueNoise(u / 5, v / 5));
    scale(surface.openness, index, 1 - 0.45 * inside);
    scale(surface.gloss, index, 0.15);
  });
}

/** Drawn apart by its own shrinking: a rounded hole with thick, rolled edges, the grain stretched around it. */
function shrinkHole(surface: Surface, place: Place, cover: Color): void {
  const { reach, seed } = place;
  onCover(surface, place, reach * 1.9, reach * 1.5, (index, u, v) => {
    const bearing = Math.atan2(v / 0.55, u);
    const uneven =
      1 + 0.4 * (valueNoise(Math.cos(bearing) * 1.6 + 5 + seed, Math.sin(bearing) * 1.6 + 5) - 0.5);
    const out = Math.hypot(u, v / 0.55) / (reach * 0.9 * uneven);
    const away = (out - 1) * reach * 0.6;
    const pulled = Math.exp(-Math.max(0, away) / (reach * 0.35));
    opened(surface, index, { away, above: v < 0, open: 1, halfWidth: 12 }, cover, u, v);
    if (away <= 0) {
      weave(surface, index, { inside: -away, shadow: v + reach * 0.5, halfWidth: reach * 0.4 }, u, v);
      return;
    }
    scale(surface.grain, index, 1 - 0.7 * pulled);
    add(
      surface.relief,
      index,
      13 * Math.exp(-(((away - 9) / 9) ** 2)) + 2.4 * pulled * Math.sin(bearing * 14 + out * 3),
    );
  });
}

/** Rubbed in one direction: the tops of the grain are scraped lighter, with a few deeper scratches. */
function scuff(surface: Surface, place: Place, cover: Color): void {
  const { reach, seed } = place;
  const light: Color = [cover[0] * 1.2 + 0.11, cover[1] * 1.2 + 0.105, cover[2] * 1.2 + 0.1];
  onCover(surface, place, reach * 1.1, reach * 0.5, (index, u, v) => {
    const edge =
      1 -
      smoothstep(
        0.45,
        1,
        Math.hypot(u / reach, v / (reach * 0.42)) + 0.3 * (valueNoise(u / 90, v / 22) - 0.5),
      );
    if (edge <= 0) return;
    const slant = v + 0.06 * u;
    const lines =
      valueNoise(u / 150 + seed, slant / 3.2) * 0.6 + valueNoise(u / 60 + seed, slant / 1.6) * 0.4;
    const rubbed = edge * smoothstep(0.42, 0.78, lines);
    const deep = edge * smoothstep(0.83, 0.9, valueNoise(u / 260 + seed, slant / 5));
    tint(surface, index, light, Math.min(0.85, 0.55 * rubbed + 0.4 * deep));
    add(surface.relief, index, -2.2 * deep - 0.8 * rubbed);
    scale(surface.grain, index, 1 - 0.45 * edge * lines - 0.3 * deep);
    scale(surface.gloss, index, 1 - 0.7 * edge);
  });
}

/** Worn by use: color gone in patches down to the base, the grain polished flat. */
function wear(surface: Surface, place: Place, cover: Color): void {
  const { reach, seed } = place;
  const base: Color = [cover[0] * 0.6 + 0.2, cover[1] * 0.6 + 0.185, cover[2] * 0.6 + 0.16];
  onCover(surface, place, reach * 1.25, reach * 0.75, (index, u, v) => {
    const worn = 1.05 - Math.hypot(u / reach, v / (reach * 0.55));
    const patches =
      0.5 * valueNoise(u / 60 + seed, v / 40) +
      0.3 * valueNoise(u / 17, v / 14 + seed) +
      0.2 * valueNoise(u / 5, v / 5);
    const gone = smoothstep(0.5, 0.74, worn * 0.55 + patches * 0.75);
    const polished = smoothstep(-0.1, 0.5, worn);
    tint(surface, index, base, 0.8 * gone);
    scale(surface.grain, index, 1 - 0.55 * polished);
    scale(surface.gloss, index, 1 + 1.1 * polished * (1 - gone));
    const cracked =
      smoothstep(0.46, 0.5, valueNoise(u / 13 + seed, v / 13)) -
      smoothstep(0.5, 0.54, valueNoise(u / 13 + seed, v / 13));
    scale(surface.openness, index, 1 - 0.4 * cracked * gone);
  });
}
