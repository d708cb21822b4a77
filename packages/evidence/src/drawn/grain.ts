import { hash2, smoothstep, valueNoise } from './noise.ts';

/** Side of a grain tile in pixels, a power of two; a tile repeats without a join. */
export const tileSide = 1024;

let made: Float32Array | undefined;

/** Heights between 0 and 1 of one tile of grain; made once, the same in every process. */
export function grainTile(): Float32Array {
  made ??= makeTile();
  return made;
}

function makeTile(): Float32Array {
  const tile = new Float32Array(tileSide * tileSide);
  for (let y = 0; y < tileSide; y += 1) {
    for (let x = 0; x < tileSide; x += 1) tile[y * tileSide + x] = pebbled(x, y);
  }
  return tile;
}

/** Leather grain pressed into vinyl: flat-topped pebbles of uneven size with narrow valleys, and pores on them. */
function pebbled(x: number, y: number): number {
  const bend = (valueNoise(x / 32, y / 32, 32) - 0.5) * 14;
  const sway = (valueNoise(x / 32 + 7.5, y / 32 + 3.5, 32) - 0.5) * 14;
  const cell = cells((x + bend) / 12.8, (y + sway) / 10.667, 80, 96);
  const small = cells((x - sway) / 5.12, (y + bend) / 5.12, 200, 200);
  const crease = smoothstep(0.35, 0.62, valueNoise(x / 64, y / 64, 16));
  return (
    0.62 * smoothstep(0.02, 0.34, cell.gap) +
    0.18 * (1 - cell.nearest) +
    0.12 * smoothstep(0, 0.3, small.gap) * (0.5 + 0.5 * crease) +
    0.08 * valueNoise(x / 2, y / 2, 512)
  );
}

/** Cells around scattered points (Worley's noise): distance to the nearest, and how much farther the next one is. */
function cells(x: number, y: number, columns: number, rows: number): { nearest: number; gap: number } {
  const column = Math.floor(x);
  const row = Math.floor(y);
  let nearest = 9;
  let second = 9;
  for (let dy = -1; dy <= 1; dy += 1) {
    for (let dx = -1; dx <= 1; dx += 1) {
      const cx = (column + dx + columns) % columns;
      const cy = (row + dy + rows) % rows;
      const toX = column + dx + 0.1 + 0.8 * hash2(cx, cy) - x;
      const toY = row + dy + 0.1 + 0.8 * hash2(cx + 1013, cy) - y;
      const distance = toX * toX + toY * toY;
      if (distance < nearest) {
        second = nearest;
        nearest = distance;
      } else if (distance < second) second = distance;
    }
  }
  nearest = Math.sqrt(nearest);
  return { nearest: Math.min(1, nearest), gap: Math.sqrt(second) - nearest };
}
