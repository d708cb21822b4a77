/**
 * The seam: a work order's life as stitches. Whole where something happened, a loose thread where it waits,
 * two empty holes where nothing happened yet.
 *
 * seam(label, stitches)        down a page, with date, person and words
 * shortSeam(stitches)          across a row of a list or board, with the words beside it
 * closingSeam(content?)        the double stitch that ends a statement or an invoice
 * sealFrame(content)           a stitched frame around a seal
 */
import { type Fragment, type Html, html } from './html.ts';

export interface Stitch {
  /** What happens there, as past: “Written up”, “Approved”. */
  readonly label: string;
  /** Null until it happened. `when` as shown, e.g. dayShown(…); `by` the person's name. */
  readonly done: { readonly when: Fragment; readonly by?: string | undefined } | null;
  /** Words for more: what was decided, or what it waits for. */
  readonly note?: Fragment;
}

export function seam(label: string, stitches: readonly Stitch[]): Html {
  const waiting = waitingAt(stitches);
  return html`<ol class="seam" aria-label="${label}">${stitches.map((stitch, index) =>
    stitchDown(stitch, index === waiting),
  )}</ol>`;
}

/** `waitsFor` is what is said beside it, e.g. “waits for approval”; else the last thing that happened. */
export function shortSeam(stitches: readonly Stitch[], waitsFor?: string): Html {
  const done = stitches.filter((stitch) => stitch.done !== null);
  const words = waitsFor ?? done.at(-1)?.label ?? 'Nothing yet';
  const waiting = waitingAt(stitches);
  const width = stitches.length * stitchWidth + 4;
  return html`<span class="short-seam"><svg class="short-seam-line" width="${width}" height="12" viewBox="0 0 ${width} 12"
    role="img" aria-label="${done.length} of ${stitches.length} steps done">${stitches.map((stitch, index) =>
      stitchAcross(index, stitch.done !== null, index === waiting),
    )}</svg> <span class="short-seam-words">${words}</span></span>`;
}

export function closingSeam(content?: Fragment): Html {
  return html`<div class="closing-seam">
    <svg class="closing-seam-line" width="100%" height="10" aria-hidden="true" focusable="false">
      <line x1="3" y1="3" x2="100%" y2="3" stroke="currentColor" stroke-width="2" stroke-dasharray="13 7" stroke-linecap="round"/>
      <line x1="13" y1="8" x2="100%" y2="8" stroke="currentColor" stroke-width="2" stroke-dasharray="13 7" stroke-linecap="round"/>
    </svg>
    ${content && html`<div class="closing-seam-content">${content}</div>`}
  </div>`;
}

export function sealFrame(content: Fragment): Html {
  return html`<div class="seal-frame">${content}</div>`;
}

const stitchWidth = 18;

function waitingAt(stitches: readonly Stitch[]): number {
  return stitches.findIndex((stitch) => stitch.done === null);
}

function stitchDown(stitch: Stitch, waiting: boolean): Html {
  const kind = stitch.done ? 'whole' : waiting ? 'waiting' : 'open';
  return html`<li class="stitch stitch--${kind}">
    <svg class="stitch-thread" aria-hidden="true" focusable="false">${
      kind === 'whole'
        ? html`<line x1="12" y1="0" x2="12" y2="100%" stroke="currentColor" stroke-width="5" stroke-linecap="round"/>`
        : html`<circle cx="12" cy="0" r="3.25" fill="none" stroke="currentColor" stroke-width="1.5"/>
          <circle cx="12" cy="100%" r="3.25" fill="none" stroke="currentColor" stroke-width="1.5"/>${
            !waiting &&
            html`<line x1="12" y1="9" x2="12" y2="100%" stroke="currentColor" stroke-width="1.5" stroke-dasharray="1.5 5"/>`
          }`
    }${
      waiting &&
      html`<path d="M12 0 C13 11 3 13 5 22 C6 28 14 27 12 34" fill="none" stroke="currentColor"
        stroke-width="3" stroke-linecap="round" class="stitch-loose"/>`
    }</svg>
    <div class="stitch-words">
      <span class="stitch-label">${stitch.label}</span>
      <span class="stitch-when">${stitch.done ? happened(stitch.done) : waiting ? 'waiting' : 'not yet'}</span>
      ${stitch.note && html`<span class="stitch-note">${stitch.note}</span>`}
    </div>
  </li>`;
}

function happened(done: NonNullable<Stitch['done']>): Html {
  return html`${done.when}${done.by !== undefined && html`, ${done.by}`}`;
}

function stitchAcross(index: number, whole: boolean, waiting: boolean): Html {
  const from = 4 + index * stitchWidth;
  const to = from + stitchWidth - 6;
  if (whole)
    return html`<line x1="${from}" y1="6" x2="${to}" y2="6" stroke="currentColor" stroke-width="4" stroke-linecap="round"/>`;
  if (waiting)
    return html`<circle cx="${from}" cy="6" r="1.75" fill="currentColor"/><path d="M${from} 6 q3 7 6 2 t6 1" fill="none"
      stroke="currentColor" stroke-width="1.75" stroke-linecap="round"/>`;
  return html`<line class="short-seam-open" x1="${from}" y1="6" x2="${to}" y2="6" stroke="currentColor" stroke-dasharray="2 3"/>`;
}
