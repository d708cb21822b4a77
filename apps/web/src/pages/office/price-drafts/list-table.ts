import { displayPercent, type ListedRate, splitLine } from '@grainwright/domain';
import type { PriceDraftView } from '@grainwright/operations';
import { money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { bandWords, onlyForWords } from '../price-book/band-words.ts';

/** The rows of a list that is only read. */
export function listTable({ rates, currency }: PriceDraftView): Html {
  return dataTable({
    caption: 'The rows of the list',
    captionHidden: true,
    narrow: 'scroll',
    columns: [
      {
        header: 'Code',
        names: true,
        cell: (rate: ListedRate) => html`<span class="code">${rate.code}</span>`,
      },
      { header: 'Family', cell: (rate) => rate.family },
      { header: 'Repair', cell: (rate) => rate.repair },
      { header: 'Size', cell: bandWords },
      { header: 'Only for', cell: onlyForWords },
      { header: 'List', figure: true, cell: (rate) => money(rate.listMinor, currency) },
      { header: 'Share', figure: true, cell: (rate) => displayPercent(rate.materialsPercent) },
      { header: 'Labor', figure: true, cell: (rate) => money(split(rate).laborMinor, currency) },
      { header: 'Materials', figure: true, cell: (rate) => money(split(rate).materialsMinor, currency) },
    ],
    rows: rates,
    empty: emptyState('No rows', 'The list was empty.'),
  });
}

function split(rate: ListedRate) {
  return splitLine(rate.listMinor, rate.materialsPercent);
}
