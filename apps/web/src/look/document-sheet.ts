/**
 * documentSheet({kind, number, business, to, facts, body, closing?}): an invoice or a statement as a sheet one
 * would keep. `business` and `to` are {name, lines}; `facts` stand beside the number (date, due, PO); `closing`
 * is what the closing seam carries, e.g. the amount due; `logo` is where the business's picture is. It prints
 * without the page around it.
 */
import type { Fragment, Html } from './html.ts';
import { html } from './html.ts';
import { closingSeam } from './seam.ts';
import { type Definition, definitionList } from './tables.ts';

export interface Party {
  readonly name: string;
  readonly lines: readonly string[];
}

export function documentSheet(sheet: {
  readonly kind: string;
  readonly number?: string;
  readonly business: Party;
  readonly logo?: string | undefined;
  readonly to: Party;
  readonly facts: readonly Definition[];
  readonly body: Html;
  readonly closing?: Fragment;
}): Html {
  return html`<article class="sheet">
    <header class="sheet-head">
      <div class="sheet-business">${sheet.logo !== undefined && html`<img class="logo" src="${sheet.logo}" alt="">`}${party(sheet.business)}</div>
      <h2 class="sheet-kind">${sheet.kind}${sheet.number !== undefined && html` <span class="sheet-number">${sheet.number}</span>`}</h2>
    </header>
    <div class="sheet-parties">
      <div><p class="sheet-label">To</p>${party(sheet.to)}</div>
      ${definitionList(sheet.facts)}
    </div>
    ${sheet.body}
    ${closingSeam(sheet.closing)}
  </article>`;
}

/** The sums under a document's lines; the last one is the one that counts. */
export function sums(entries: readonly Definition[]): Html {
  return html`<dl class="sums">${entries.map(
    (entry) => html`<div><dt>${entry.term}</dt><dd>${entry.value}</dd></div>`,
  )}</dl>`;
}

function party(of: Party): Html {
  return html`<p class="party"><b>${of.name}</b>${of.lines.map((line) => html`<br>${line}`)}</p>`;
}
