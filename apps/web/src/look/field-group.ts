/**
 * fieldGroup(legend, fields): fields that belong together, side by side where there is room.
 * columns(parts): parts of a page side by side where there is room, one below the other where there is not.
 */
import { type Fragment, type Html, html } from './html.ts';

export function fieldGroup(legend: string, fields: Fragment): Html {
  return html`<fieldset class="field-group"><legend>${legend}</legend>${fields}</fieldset>`;
}

export function columns(parts: readonly Html[]): Html {
  return html`<div class="columns">${parts.map((part) => html`<section>${part}</section>`)}</div>`;
}
