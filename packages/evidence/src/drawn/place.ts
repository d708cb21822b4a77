import { height, type Surface, width } from './surface.ts';

/** Where the damage lies: its middle and direction on the picture, and how long it is. */
export interface Place {
  readonly x: number;
  readonly y: number;
  /** Radians, clockwise as seen. */
  readonly angle: number;
  /** Pixels from the middle to the end. */
  readonly reach: number;
  readonly seed: number;
  readonly pixelsPerInch: number;
}

/**
 * Calls for each pixel within the given half-width and half-height around the middle, in the damage's own
 * directions: `u` along it, `v` across it, in pixels.
 */
export function around(
  place: Place,
  halfAlong: number,
  halfAcross: number,
  visit: (index: number, u: number, v: number) => void,
): void {
  const cosine = Math.cos(place.angle);
  const sine = Math.sin(place.angle);
  const spanX = Math.abs(cosine) * halfAlong + Math.abs(sine) * halfAcross;
  const spanY = Math.abs(sine) * halfAlong + Math.abs(cosine) * halfAcross;
  const right = Math.min(width - 1, Math.ceil(place.x + spanX));
  const bottom = Math.min(height - 1, Math.ceil(place.y + spanY));
  for (let y = Math.max(0, Math.floor(place.y - spanY)); y <= bottom; y += 1) {
    for (let x = Math.max(0, Math.floor(place.x - spanX)); x <= right; x += 1) {
      const u = (x - place.x) * cosine + (y - place.y) * sine;
      const v = (y - place.y) * cosine - (x - place.x) * sine;
      if (Math.abs(u) <= halfAlong && Math.abs(v) <= halfAcross) visit(y * width + x, u, v);
    }
  }
}

/** As `around`, but only where the upholstery is: damage and its repair end where the panel does. */
export function onCover(
  surface: Surface,
  place: Place,
  halfAlong: number,
  halfAcross: number,
  visit: (index: number, u: number, v: number) => void,
): void {
  around(place, halfAlong, halfAcross, (index, u, v) => {
    if (surface.cover[index] === 1) visit(index, u, v);
  });
}
