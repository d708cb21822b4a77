import { displayPercent } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import { firstDayShown, lastDayShown } from './dated.ts';

/** What was agreed with accounts for a time: those that hold on the day or later. */
export function contracts(book: PriceBookView, mayChange: boolean): Html {
  const ending: Column<PriceBookView['contracts'][number]> = {
    header: 'Change',
    cell: (each) =>
      (each.validTo === null || each.validTo > book.today) &&
      html`<a href="${`/office/price-book/contracts/${each.id}/end`}">End it<span class="heard">: ${each.accountName}, ${each.name}</span></a>`,
  };
  return html`<section id="contracts"><h2>Contracts</h2>
    ${dataTable({
      caption: 'Contracts',
      captionHidden: true,
      columns: [
        {
          header: 'Account',
          names: true,
          cell: (each) =>
            html`<a class="long-name" href="/office/accounts/${each.accountId}">${each.accountName}</a>`,
        },
        { header: 'Contract', cell: (each) => each.name },
        { header: 'Why', cell: (each) => each.reason },
        { header: 'From', cell: firstDayShown },
        { header: 'To', cell: lastDayShown },
        { header: 'Off list', figure: true, cell: (each) => displayPercent(each.discountPercent) },
        ...(mayChange ? [ending] : []),
      ],
      rows: book.contracts.filter(({ validTo }) => validTo === null || validTo >= book.on),
      empty: emptyState('No contract', 'Every account pays by its tier, and by its own prices.'),
    })}
    ${mayChange && html`<p class="hint">A contract is made on the account’s <a href="/office/accounts">page</a>.</p>`}
  </section>`;
}
