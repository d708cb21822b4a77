import { ok, type Result, refuse } from '../result.ts';

/** A point of a stroke: `x` and `y` in pixels of the pad, `t` in milliseconds. */
export interface StrokePoint {
  readonly x: number;
  readonly y: number;
  readonly t: number;
}

export type Stroke = readonly StrokePoint[];

/** How somebody signed: drawn with a finger, or the name typed and confirmed. */
export type SignatureMark =
  | { readonly kind: 'drawn'; readonly strokes: readonly Stroke[] }
  | { readonly kind: 'typed'; readonly name: string; readonly confirmed: boolean };

const strokesMax = 200;
const pointsMax = 10_000;
const padPixelsMax = 10_000;

/**
 * Checks that a mark is there and of a size that can be kept. Refuses with `signature_missing` where there
 * is none, or `invalid_input` where it is no signature that a pad can make.
 */
export function checkSignatureMark(mark: SignatureMark): Result<SignatureMark> {
  return mark.kind === 'typed' ? checkTyped(mark.name, mark.confirmed) : checkDrawn(mark.strokes);
}

function checkTyped(name: string, confirmed: boolean): Result<SignatureMark> {
  const typed = name.trim().replace(/\s+/g, ' ');
  if (typed === '')
    return refuse('signature_missing', 'Type your full name, or draw your signature.', 'signature');
  if (typed.length > 100)
    return refuse('invalid_input', 'A typed name has at most 100 letters.', 'signature');
  if (!confirmed)
    return refuse('signature_missing', 'Confirm that the typed name is your signature.', 'confirmed');
  return ok({ kind: 'typed', name: typed, confirmed });
}

function checkDrawn(strokes: readonly Stroke[]): Result<SignatureMark> {
  const points = strokes.flat();
  const first = points[0];
  if (first === undefined || points.every(({ x, y }) => x === first.x && y === first.y))
    return refuse('signature_missing', 'Draw your signature in the field, or type your name.', 'signature');
  if (strokes.length > strokesMax || points.length > pointsMax)
    return refuse(
      'invalid_input',
      'That drawing is too large for a signature. Clear it and sign again.',
      'signature',
    );
  if (!points.every(isOnPad))
    return refuse('invalid_input', 'That drawing can’t be read. Clear it and sign again.', 'signature');
  return ok({ kind: 'drawn', strokes });
}

function isOnPad({ x, y, t }: StrokePoint): boolean {
  return Math.abs(x) <= padPixelsMax && Math.abs(y) <= padPixelsMax && Number.isFinite(t) && t >= 0;
}
