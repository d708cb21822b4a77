import type { PriceBookView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import { firstDayShown, lastDayShown } from './dated.ts';
import { standing } from './rate-periods.ts';

/** What a tier pays in place of list less its discount, every period. */
export function tierPrices(
  { tierPrices: all, today, currency }: PriceBookView,
  tierCode: string,
  mayChange: boolean,
): Html {
  const ending: Column<PriceBookView['tierPrices'][number]> = {
    header: 'Change',
    cell: (each) =>
      (each.validTo === null || each.validTo > today) &&
      html`<a href="${`/office/price-book/tier-prices/${each.id}/end`}">End it<span class="heard">: ${each.code}</span></a>`,
  };
  return html`<section id="own-prices"><h2>Own prices</h2>
    ${dataTable({
      caption: 'Own prices of the tier',
      captionHidden: true,
      columns: [
        {
          header: 'Code',
          names: true,
          cell: (each) =>
            html`<a class="code" href="${`/office/price-book/rates/${each.code}`}">${each.code}</a>`,
        },
        { header: 'Why', cell: (each) => each.reason },
        { header: 'From', cell: firstDayShown },
        { header: 'To', cell: lastDayShown },
        { header: 'Standing', cell: (each) => standing(each, today) },
        { header: 'Price', figure: true, cell: (each) => money(each.priceMinor, currency) },
        ...(mayChange ? [ending] : []),
      ],
      rows: all.filter((each) => each.tierCode === tierCode),
      empty: emptyState('No price of its own', 'For every repair it pays list less its discount.'),
    })}
    ${mayChange && html`<p>${quietLink({ label: 'Give an own price', href: `/office/price-book/tiers/${tierCode}/prices/new` })}</p>`}
  </section>`;
}
