/**
 * Opens every place to draw a signature. The strokes go into the hidden input beside it as JSON
 * [[{x, y, t}]]: pixels of the drawing as it is shown, milliseconds since the first touch. A turned phone
 * or a form that comes back keeps what was drawn.
 */
import SignaturePad, { type PointGroup } from 'signature_pad';

interface DrawnPoint {
  readonly x: number;
  readonly y: number;
  readonly t: number;
}

for (const field of document.querySelectorAll<HTMLElement>('[data-signature-field]')) openField(field);

function openField(field: HTMLElement): void {
  const canvas = field.querySelector<HTMLCanvasElement>('canvas[data-signature]');
  const strokes = field.querySelector<HTMLInputElement>('[data-strokes]');
  if (!canvas || !strokes) return;
  field.hidden = false;
  const pad = new SignaturePad(canvas, { minWidth: 1.2, maxWidth: 3.2 });
  let width = fit(canvas, pad);

  const show = (groups: PointGroup[]): void => {
    pad.clear();
    if (groups.length > 0) pad.fromData(groups);
  };
  const keep = (): void => {
    strokes.value = pad.isEmpty() ? '' : JSON.stringify(drawn(pad.toData()));
  };

  show(kept(strokes.value, pad));
  pad.addEventListener('endStroke', keep);
  field.querySelector('[data-signature-clear]')?.addEventListener('click', () => {
    pad.clear();
    keep();
  });
  field.querySelector('[data-signature-undo]')?.addEventListener('click', () => {
    show(pad.toData().slice(0, -1));
    keep();
  });
  new ResizeObserver(() => {
    if (canvas.clientWidth === width || canvas.clientWidth === 0) return;
    const groups = scaled(pad.toData(), canvas.clientWidth / width);
    width = fit(canvas, pad);
    show(groups);
    keep();
  }).observe(canvas);
}

/** As many pixels as the screen has; the ink in the color of the page's text, on the page's paper. */
function fit(canvas: HTMLCanvasElement, pad: SignaturePad): number {
  const ratio = Math.max(window.devicePixelRatio, 1);
  canvas.width = Math.round(canvas.clientWidth * ratio);
  canvas.height = Math.round(canvas.clientHeight * ratio);
  canvas.getContext('2d')?.scale(ratio, ratio);
  pad.penColor = getComputedStyle(canvas).color;
  return canvas.clientWidth;
}

/** The canvas keeps its shape, so one factor serves both ways. */
function scaled(groups: readonly PointGroup[], factor: number): PointGroup[] {
  return groups.map((group) => ({
    ...group,
    points: group.points.map((point) => ({ ...point, x: point.x * factor, y: point.y * factor })),
  }));
}

function drawn(groups: readonly PointGroup[]): readonly (readonly DrawnPoint[])[] {
  const first = groups[0]?.points[0]?.time ?? 0;
  const tenth = (value: number): number => Math.round(value * 10) / 10;
  return groups.map((group) =>
    group.points.map((point) => ({
      x: tenth(point.x),
      y: tenth(point.y),
      t: Math.round(point.time - first),
    })),
  );
}

/** What an earlier sending of the form had; nothing, where it can't be read. */
function kept(text: string, pad: SignaturePad): PointGroup[] {
  if (text === '') return [];
  const { dotSize, minWidth, maxWidth, penColor, velocityFilterWeight, compositeOperation } = pad;
  const look = { dotSize, minWidth, maxWidth, penColor, velocityFilterWeight, compositeOperation };
  try {
    const strokes: unknown = JSON.parse(text);
    if (!Array.isArray(strokes)) return [];
    return strokes.filter(Array.isArray).map((stroke: readonly unknown[]) => ({
      ...look,
      points: stroke.filter(isDrawnPoint).map(({ x, y, t }) => ({ x, y, time: t, pressure: 0.5 })),
    }));
  } catch {
    return [];
  }
}

function isDrawnPoint(value: unknown): value is DrawnPoint {
  if (typeof value !== 'object' || value === null || !('x' in value && 'y' in value && 't' in value))
    return false;
  return typeof value.x === 'number' && typeof value.y === 'number' && typeof value.t === 'number';
}
