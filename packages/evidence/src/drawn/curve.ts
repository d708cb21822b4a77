import { height, width } from './surface.ts';

/** A line along which a panel ends, folds or is sewn. */
export interface Curve {
  /** Which side a point is on and how far: negative above, left or inside; positive below, right or outside. */
  readonly side: (x: number, y: number) => number;
  /**
   * Calls for every pixel within `reach` of the line: its index, its signed distance, and how far along the line
   * it lies, in pixels.
   */
  readonly near: (reach: number, visit: (index: number, distance: number, along: number) => void) => void;
}

/** A line from left to right, `y` for each `x`. */
export function across(yAt: (x: number) => number): Curve {
  const { values, cosines, along } = sample(width, yAt);
  return {
    side: (x, y) => (y - (values[x] ?? 0)) * (cosines[x] ?? 1),
    near(reach, visit) {
      for (let x = 0; x < width; x += 1) {
        const line = values[x] ?? 0;
        const cosine = cosines[x] ?? 1;
        const from = Math.max(0, Math.ceil(line - reach / cosine));
        const to = Math.min(height - 1, Math.floor(line + reach / cosine));
        for (let y = from; y <= to; y += 1) visit(y * width + x, (y - line) * cosine, along[x] ?? 0);
      }
    },
  };
}

/** A line from top to bottom, `x` for each `y`. */
export function down(xAt: (y: number) => number): Curve {
  const { values, cosines, along } = sample(height, xAt);
  return {
    side: (x, y) => (x - (values[y] ?? 0)) * (cosines[y] ?? 1),
    near(reach, visit) {
      for (let y = 0; y < height; y += 1) {
        const line = values[y] ?? 0;
        const cosine = cosines[y] ?? 1;
        const from = Math.max(0, Math.ceil(line - reach / cosine));
        const to = Math.min(width - 1, Math.floor(line + reach / cosine));
        for (let x = from; x <= to; x += 1) visit(y * width + x, (x - line) * cosine, along[y] ?? 0);
      }
    },
  };
}

export function circle(centerX: number, centerY: number, radius: number): Curve {
  const side = (x: number, y: number) => Math.hypot(x - centerX, y - centerY) - radius;
  return {
    side,
    near(reach, visit) {
      for (let y = 0; y < height; y += 1) {
        for (let x = 0; x < width; x += 1) {
          const distance = side(x, y);
          if (Math.abs(distance) > reach) continue;
          visit(y * width + x, distance, Math.atan2(y - centerY, x - centerX) * radius);
        }
      }
    },
  };
}

function sample(count: number, valueAt: (at: number) => number) {
  const values = new Float32Array(count);
  const cosines = new Float32Array(count);
  const along = new Float32Array(count);
  for (let at = 0; at < count; at += 1) {
    const slope = valueAt(at + 1) - valueAt(at);
    values[at] = valueAt(at);
    cosines[at] = 1 / Math.hypot(1, slope);
    along[at] = at === 0 ? 0 : (along[at - 1] ?? 0) + Math.hypot(1, slope);
  }
  return { values, cosines, along };
}
