import { across, type Curve, circle, down } from './curve.ts';
import { valueNoise } from './noise.ts';
import { gap, sew } from './seam.ts';
import { blankSurface, type Color, copyInto, height, linear, type Surface, width } from './surface.ts';

export type Part =
  | 'door_panel'
  | 'tailgate_lining'
  | 'quarter_trim'
  | 'seat_bolster'
  | 'steering_wheel'
  | 'dash';

export type Trim = keyof typeof trims;

/** Covers as one would order them: the cover's color, its companion below or beside it, and the thread. */
const trims = {
  charcoal: { cover: linear('#4b4b4d'), other: linear('#2f3032'), thread: linear('#8b8b88') },
  graphite: { cover: linear('#6b6d70'), other: linear('#3c3e41'), thread: linear('#c4c3be') },
  sand: { cover: linear('#c2ad8c'), other: linear('#5f564b'), thread: linear('#e6dcc6') },
  saddle: { cover: linear('#9a6238'), other: linear('#3a312b'), thread: linear('#dcb98c') },
  stone: { cover: linear('#a9a7a1'), other: linear('#55565a'), thread: linear('#e4e2dc') },
} as const satisfies Record<string, { cover: Color; other: Color; thread: Color }>;

/** What a place on the picture is made of. */
interface Material {
  readonly color: Color;
  readonly grain: number;
  readonly gloss: number;
  readonly openness: number;
  readonly isCover: boolean;
}

interface Layout {
  /** Height of the shape in pixels, smooth, without edges. */
  readonly shape: (x: number, y: number) => number;
  readonly materialAt: (x: number, y: number) => Material;
  readonly seams: readonly { readonly line: Curve; readonly rows: readonly number[] }[];
  readonly gaps: readonly { readonly line: Curve; readonly halfWidth: number; readonly roll: number }[];
}

/**
 * The undamaged part, seen from where a person would hold a phone to photograph the place. The surface is the caller's
 * until the next call: a picture is drawn in one go, and so large a thing is not made anew for each.
 */
export function drawPanel(part: Part, trim: Trim): Surface {
  const of = `${part} ${trim}`;
  if (last?.of !== of) last = { of, surface: drawNew(part, trim) };
  canvas ??= blankSurface();
  copyInto(canvas, last.surface);
  return canvas;
}

/** Pictures of one damage are drawn one after the other, and begin with the same undamaged part. */
let last: { readonly of: string; readonly surface: Surface } | undefined;
let canvas: Surface | undefined;

function drawNew(part: Part, trim: Trim): Surface {
  const surface = blankSurface();
  const layout = layouts[part](materialsOf(trim));
  spread(surface.relief, 8, layout.shape);
  // Dyeing and light are never quite even over a panel.
  const uneven = new Float32Array(width * height);
  spread(
    uneven,
    32,
    (x, y) => 0.965 + 0.05 * valueNoise(x / 224, y / 224) + 0.02 * valueNoise(x / 50, y / 50),
  );
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const index = y * width + x;
      put(surface, index, layout.materialAt(x, y), uneven[index] ?? 1);
    }
  }
  for (const { line, rows } of layout.seams) sew(surface, line, { thread: trims[trim].thread, rows });
  for (const { line, halfWidth, roll } of layout.gaps) gap(surface, line, halfWidth, roll);
  return surface;
}

/** The color of a part's cover, which a repair has to meet. */
export function coverColor(trim: Trim): Color {
  return trims[trim].cover;
}

function put(surface: Surface, index: number, material: Material, uneven: number): void {
  const at = index * 3;
  surface.color[at] = material.color[0] * uneven;
  surface.color[at + 1] = material.color[1] * uneven;
  surface.color[at + 2] = material.color[2] * uneven;
  surface.cover[index] = material.isCover ? 1 : 0;
  surface.grain[index] = material.grain * (0.55 + 0.45 * uneven * uneven);
  surface.gloss[index] = material.gloss;
  surface.openness[index] = material.openness;
}

/** Works out something smooth at every `step`-th pixel and fills in between. */
function spread(into: Float32Array, step: number, valueAt: (x: number, y: number) => number): void {
  const columns = width / step + 1;
  const upper = new Float32Array(columns);
  const lower = Float32Array.from(upper, (_, column) => valueAt(column * step, 0));
  for (let y = 0; y < height; y += 1) {
    const down = (y % step) / step;
    if (down === 0) {
      upper.set(lower);
      for (let column = 0; column < columns; column += 1) lower[column] = valueAt(column * step, y + step);
    }
    for (let column = 0; column + 1 < columns; column += 1) {
      const from = (upper[column] ?? 0) * (1 - down) + (lower[column] ?? 0) * down;
      const to = (upper[column + 1] ?? 0) * (1 - down) + (lower[column + 1] ?? 0) * down;
      const start = y * width + column * step;
      for (let x = 0; x < step; x += 1) into[start + x] = from + ((to - from) * x) / step;
    }
  }
}

function materialsOf(trim: Trim) {
  const { cover, other } = trims[trim];
  return {
    cover: { color: cover, grain: 2.3, gloss: 0.16, openness: 1, isCover: true },
    other: { color: other, grain: 1.1, gloss: 0.1, openness: 1, isCover: false },
    cloth: { color: linear('#34363a'), grain: 1.7, gloss: 0, openness: 0.8, isCover: false },
    paint: { color: linear('#8d9399'), grain: 0, gloss: 0.9, openness: 1.1, isCover: false },
    glass: { color: linear('#20262a'), grain: 0, gloss: 0.8, openness: 1, isCover: false },
    dark: { color: linear('#1c1d1f'), grain: 0.2, gloss: 0.03, openness: 0.7, isCover: false },
  } as const satisfies Record<string, Material>;
}

type Materials = ReturnType<typeof materialsOf>;

const layouts: Readonly<Record<Part, (materials: Materials) => Layout>> = {
  door_panel: doorPanel,
  tailgate_lining: tailgateLining,
  quarter_trim: quarterTrim,
  seat_bolster: seatBolster,
  steering_wheel: steeringWheel,
  dash,
};

function doorPanel({ cover, other, glass, cloth }: Materials): Layout {
  const belt = across((x) => 74 + 0.00002 * (x - 700) ** 2);
  const sill = across((x) => 236 + 0.000028 * (x - 700) ** 2);
  const fold = across((x) => 905 - 46 * Math.sin((x + 120) / 620));
  const pocket = across((x) => 1068 - 46 * Math.sin((x + 120) / 620));
  return {
    shape: (x, y) => 42 * Math.sin((y - 160) / 300) - 0.00006 * (x - 800) ** 2,
    materialAt: (x, y) =>
      belt.side(x, y) < 0 ? glass : sill.side(x, y) < 0 ? other : pocket.side(x, y) > 0 ? cloth : cover,
    seams: [{ line: fold, rows: [-19] }],
    gaps: [
      { line: belt, halfWidth: 7, roll: 26 },
      { line: sill, halfWidth: 2.5, roll: 20 },
      { line: pocket, halfWidth: 4, roll: 34 },
    ],
  };
}

function tailgateLining({ cover, other, paint, glass }: Materials): Layout {
  const window = across((x) => 92 + 0.00006 * (x - 800) ** 2);
  const edge = across((x) => 206 + 0.00006 * (x - 800) ** 2);
  const bottom = across((x) => 1040 - 0.00003 * (x - 800) ** 2);
  const fold = down((y) => 246 + 34 * Math.sin((y + 300) / 560));
  return {
    shape: (x, y) => 34 * Math.sin((x + 200) / 640) + 40 * Math.sin((y - 120) / 420),
    materialAt: (x, y) =>
      window.side(x, y) < 0 ? glass : edge.side(x, y) < 0 ? other : bottom.side(x, y) > 0 ? paint : cover,
    seams: [{ line: fold, rows: [19] }],
    gaps: [
      { line: window, halfWidth: 6, roll: 18 },
      { line: edge, halfWidth: 2.5, roll: 22 },
      { line: bottom, halfWidth: 8, roll: 30 },
    ],
  };
}

function quarterTrim({ cover, other, cloth }: Materials): Layout {
  const arch = circle(1420, 1560, 700);
  const inset = circle(1420, 1560, 812);
  const pillar = down((y) => 150 + 0.00022 * (1200 - y) ** 2);
  return {
    shape: (x, y) => 0.00009 * (x - 500) ** 2 + 30 * Math.sin((y - 200) / 380) + 0.02 * x,
    materialAt: (x, y) => (arch.side(x, y) < 0 ? cloth : pillar.side(x, y) < 0 ? other : cover),
    seams: [{ line: inset, rows: [-19] }],
    gaps: [
      { line: arch, halfWidth: 6, roll: 30 },
      { line: pillar, halfWidth: 4, roll: 26 },
    ],
  };
}

function seatBolster({ cover, other, dark }: Materials): Layout {
  const inner = down((y) => 366 + 40 * Math.sin((y + 500) / 700));
  const outer = down((y) => 1262 + 60 * Math.sin((y + 500) / 700));
  const side = down((y) => 1500 + 50 * Math.sin((y + 500) / 700));
  const hole = { ...dark, openness: 0.5, isCover: true };
  const bulge = (x: number) => Math.exp(-(((x - 830) / 520) ** 4));
  return {
    shape: (x, y) => 130 * bulge(x) - 0.00022 * (x - 830) ** 2 + 14 * Math.sin(y / 330),
    materialAt: (x, y) => {
      if (side.side(x, y) > 0) return dark;
      if (outer.side(x, y) > 0) return other;
      return inner.side(x, y) < -30 && isPerforation(x, y) ? hole : cover;
    },
    seams: [
      { line: inner, rows: [-19, 19] },
      { line: outer, rows: [-19] },
    ],
    gaps: [{ line: side, halfWidth: 12, roll: 60 }],
  };
}

function isPerforation(x: number, y: number): boolean {
  const row = Math.floor(y / 21);
  const toX = ((x + (row % 2) * 12) % 24) - 12;
  const toY = (y % 21) - 10.5;
  return toX * toX + toY * toY < 11;
}

function steeringWheel({ cover, other, dark }: Materials): Layout {
  const rim = circle(800, 1880, 1270);
  const half = 205;
  const behind = { ...other, grain: 0.3, openness: 0.6 };
  const top = circle(800, 1880, 1270 + half);
  const foot = circle(800, 1880, 1270 - half);
  const fold = circle(800, 1880, 1270 - 118);
  return {
    shape: (x, y) => 170 * Math.exp(-((rim.side(x, y) / (half * 1.02)) ** 4)),
    materialAt: (x, y) => {
      const away = rim.side(x, y);
      if (away > half) return behind;
      return away < -half ? dark : cover;
    },
    seams: [{ line: fold, rows: [-17, 17] }],
    gaps: [
      { line: top, halfWidth: 3, roll: 14 },
      { line: foot, halfWidth: 3, roll: 14 },
    ],
  };
}

function dash({ cover, other, glass, dark }: Materials): Layout {
  const windshield = across((x) => 118 + 0.00007 * (x - 760) ** 2);
  const vent = across((x) => 214 + 0.00007 * (x - 760) ** 2);
  const fold = across((x) => 868 + 0.00004 * (x - 760) ** 2);
  const lower = across((x) => 1030 + 0.00004 * (x - 760) ** 2);
  const isSlot = (x: number, y: number) =>
    Math.abs(vent.side(x, y)) < 19 && x > 262 && x < 1338 && (x + 4) % 28 > 9;
  const sky = { ...glass, openness: 2.2 };
  const slot = { ...dark, grain: 0, openness: 0.25 };
  const frame = { ...other, grain: 0.4, openness: 0.9 };
  return {
    shape: (_x, y) => 66 * Math.sin((y - 190) / 460) - (y > 760 ? 0.0007 * (y - 760) ** 2 : 0),
    materialAt: (x, y) => {
      if (windshield.side(x, y) < 0) return sky;
      if (Math.abs(vent.side(x, y)) < 30 && x > 240 && x < 1360) return isSlot(x, y) ? slot : frame;
      return lower.side(x, y) > 0 ? other : cover;
    },
    seams: [{ line: fold, rows: [-19, 19] }],
    gaps: [
      { line: windshield, halfWidth: 5, roll: 24 },
      { line: lower, halfWidth: 4, roll: 30 },
    ],
  };
}
