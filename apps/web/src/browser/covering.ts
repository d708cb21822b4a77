/**
 * Parts of a picture are marked by drawing over it, and each stands at once in a row of numbers; numbers that are typed
 * are drawn. Without this module the numbers alone are the form.
 */
const picture = document.querySelector<HTMLElement>('[data-covering]');
const drawing = picture?.querySelector('svg') ?? null;
const rows = document.querySelector<HTMLElement>('[data-covering-rows]');

const sides = ['left', 'top', 'width', 'height'] as const;
type Region = Readonly<Record<(typeof sides)[number], number>>;

if (picture !== null && drawing !== null && rows !== null) {
  document.querySelector('[data-covering-hint]')?.removeAttribute('hidden');
  rows.addEventListener('input', () => {
    keepOneBlank(rows);
    draw(drawing, rows);
  });
  rows.addEventListener('focusin', () => draw(drawing, rows));
  takeDrawing(picture, drawing, rows);
  draw(drawing, rows);
}

function takeDrawing(over: HTMLElement, svg: SVGSVGElement, list: HTMLElement): void {
  let from: { readonly x: number; readonly y: number } | null = null;
  const at = (event: PointerEvent) => {
    const box = over.getBoundingClientRect();
    const part = (value: number, start: number, length: number) =>
      Math.min(100, Math.max(0, ((value - start) / length) * 100));
    return { x: part(event.clientX, box.left, box.width), y: part(event.clientY, box.top, box.height) };
  };
  const between = (event: PointerEvent, start: { readonly x: number; readonly y: number }): Region => {
    const to = at(event);
    return {
      left: Math.min(start.x, to.x),
      top: Math.min(start.y, to.y),
      width: Math.abs(to.x - start.x),
      height: Math.abs(to.y - start.y),
    };
  };
  over.addEventListener('pointerdown', (event) => {
    if (!event.isPrimary || event.button !== 0) return;
    event.preventDefault();
    over.setPointerCapture(event.pointerId);
    from = at(event);
  });
  over.addEventListener('pointermove', (event) => {
    if (from !== null) draw(svg, list, between(event, from));
  });
  over.addEventListener('pointercancel', () => {
    from = null;
    draw(svg, list);
  });
  over.addEventListener('pointerup', (event) => {
    if (from === null) return;
    const region = between(event, from);
    from = null;
    // A tap is no part of the picture.
    if (region.width >= 0.5 && region.height >= 0.5) keep(list, region);
    keepOneBlank(list);
    draw(svg, list);
  });
}

/** There is always a row for one more part. */
function keepOneBlank(list: HTMLElement): void {
  const all = rowsOf(list);
  if (all.every((row) => sides.some((side) => fieldOf(row, side)?.value !== ''))) oneMore(list, all);
}

/** Into the first row without numbers; where every row has some, into one more. */
function keep(list: HTMLElement, region: Region): void {
  const all = rowsOf(list);
  const row =
    all.find((each) => sides.every((side) => fieldOf(each, side)?.value === '')) ?? oneMore(list, all);
  if (row === null) return;
  for (const side of sides) {
    const field = fieldOf(row, side);
    if (field !== null) field.value = String(Math.round(region[side] * 10) / 10);
  }
}

function oneMore(list: HTMLElement, all: readonly HTMLElement[]): HTMLElement | null {
  const last = all.at(-1);
  const copy = last?.cloneNode(true);
  if (!(copy instanceof HTMLElement)) return null;
  for (const side of sides) {
    const field = fieldOf(copy, side);
    if (field !== null) field.value = '';
  }
  const number = all.length + 1;
  for (const element of copy.querySelectorAll('[id], [for], [aria-describedby]'))
    for (const name of ['id', 'for', 'aria-describedby']) {
      const value = element.getAttribute(name);
      if (value !== null) element.setAttribute(name, value.replace(/-\d+/, `-${number}`));
    }
  const legend = copy.querySelector('legend');
  if (legend !== null) legend.textContent = `Part ${number}`;
  list.append(copy);
  return copy;
}

/** Every row with four numbers as a rectangle, the one that is being typed told apart; and what is being drawn. */
function draw(svg: SVGSVGElement, list: HTMLElement, pending: Region | null = null): void {
  const kept = rowsOf(list).flatMap((row) => {
    const region = regionOf(row);
    return region === null ? [] : [{ region, isTyped: row.contains(document.activeElement) }];
  });
  const all = pending === null ? kept : [...kept, { region: pending, isTyped: true }];
  svg.replaceChildren(
    ...all.map(({ region, isTyped }) => {
      const rectangle = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
      for (const [name, side] of [
        ['x', 'left'],
        ['y', 'top'],
        ['width', 'width'],
        ['height', 'height'],
      ] as const)
        rectangle.setAttribute(name, String(region[side]));
      if (isTyped) rectangle.setAttribute('class', 'covering-typed');
      return rectangle;
    }),
  );
}

function regionOf(row: HTMLElement): Region | null {
  const [left, top, width, height] = sides.map((side) => {
    const text = fieldOf(row, side)?.value.trim().replace(',', '.') ?? '';
    return text === '' ? Number.NaN : Number(text);
  });
  const numbers = [left, top, width, height];
  if (left === undefined || top === undefined || width === undefined || height === undefined) return null;
  return numbers.every((each) => each !== undefined && each >= 0 && each <= 100)
    ? { left, top, width, height }
    : null;
}

function rowsOf(list: HTMLElement): readonly HTMLElement[] {
  return [...list.querySelectorAll<HTMLElement>('[data-covering-row]')];
}

function fieldOf(row: HTMLElement, side: string): HTMLInputElement | null {
  return row.querySelector<HTMLInputElement>(`input[name="${side}"]`);
}
