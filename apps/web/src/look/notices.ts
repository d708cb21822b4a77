/**
 * notice(kind, heading, body?): `info` (something to know), `done` (it worked), `problem` (something to do).
 * statusWord(kind, word): where a thing stands, as a word with a shape before it; the color only repeats it.
 */
import { attributes, type Fragment, type Html, html } from './html.ts';

export type NoticeKind = 'info' | 'done' | 'problem';

export function notice(kind: NoticeKind, heading: string, body?: Fragment): Html {
  const role = kind === 'problem' ? 'alert' : kind === 'done' ? 'status' : undefined;
  return html`<div ${attributes({ class: `notice notice--${kind}`, role })}>
    <p class="notice-heading">${heading}</p>
    ${body && html`<div>${body}</div>`}
  </div>`;
}

/** settled: paid, accepted, verified. moving: under way. waiting: for somebody. stopped: declined, void. */
export type StatusKind = 'settled' | 'moving' | 'waiting' | 'problem' | 'stopped';

export function statusWord(kind: StatusKind, word: string): Html {
  return html`<span class="status status--${kind}"><svg width="12" height="12" viewBox="0 0 12 12" aria-hidden="true"
    focusable="false">${shapes[kind]}</svg>${word}</span>`;
}

const shapes: Readonly<Record<StatusKind, Html>> = {
  settled: html`<rect x="1" y="1" width="10" height="10" fill="currentColor"/>`,
  moving: html`<path d="M2 1 L11 6 L2 11 Z" fill="currentColor"/>`,
  waiting: html`<circle cx="6" cy="6" r="4.25" fill="none" stroke="currentColor" stroke-width="1.75"/>`,
  problem: html`<path d="M6 1 L11.5 11 L0.5 11 Z" fill="none" stroke="currentColor" stroke-width="1.75"/>`,
  stopped: html`<path d="M2 2 L10 10 M10 2 L2 10" fill="none" stroke="currentColor" stroke-width="1.75"/>`,
};
