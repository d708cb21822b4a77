/** A stream of numbers in [0, 1) that depends on the seed alone (mulberry32, public domain). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A fixed number in [0, 1) for each point of a grid of whole numbers. */
export function hash2(x: number, y: number): number {
  let mixed = Math.imul(x, 0x27d4eb2d) ^ Math.imul(y, 0x165667b1);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x2c1b3c6d);
  mixed = Math.imul(mixed ^ (mixed >>> 12), 0x297a2d39);
  return ((mixed ^ (mixed >>> 15)) >>> 0) / 4_294_967_296;
}

/** Smooth noise in [0, 1); one unit is one bump. With a period it repeats without a join. */
export function valueNoise(x: number, y: number, period = 0): number {
  const left = Math.floor(x);
  const top = Math.floor(y);
  const across = ease(x - left);
  const down = ease(y - top);
  const at = (column: number, row: number) =>
    period === 0 ? hash2(column, row) : hash2(wrap(column, period), wrap(row, period));
  const upper = at(left, top) * (1 - across) + at(left + 1, top) * across;
  const lower = at(left, top + 1) * (1 - across) + at(left + 1, top + 1) * across;
  return upper * (1 - down) + lower * down;
}

/** 0 below `from`, 1 above `to`, smooth between. */
export function smoothstep(from: number, to: number, value: number): number {
  return ease(Math.min(1, Math.max(0, (value - from) / (to - from))));
}

function ease(part: number): number {
  return part * part * (3 - 2 * part);
}

function wrap(value: number, period: number): number {
  return ((value % period) + period) % period;
}
