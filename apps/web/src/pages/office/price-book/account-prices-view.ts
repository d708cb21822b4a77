import { displayPercent } from '@grainwright/domain';
import type { AccountPriceView, PriceBookView } from '@grainwright/operations';
import { money, moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import { firstDayShown, lastDayShown } from './dated.ts';

/** What accounts pay in place of list and tier: those that hold on the day or later, with how far they are from list. */
export function accountPrices(book: PriceBookView, mayChange: boolean): Html {
  const rows = book.accountPrices.filter(({ validTo }) => validTo === null || validTo >= book.on);
  const ending: Column<AccountPriceView> = {
    header: 'Change',
    cell: (each) =>
      (each.validTo === null || each.validTo > book.today) &&
      html`<a href="${`/office/price-book/account-prices/${each.id}/end`}">End it<span class="heard">: ${each.accountName}, ${each.code}</span></a>`,
  };
  return html`<section id="account-prices"><h2>Accounts’ own prices</h2>
    ${dataTable({
      caption: 'Accounts’ own prices',
      captionHidden: true,
      columns: [
        {
          header: 'Account',
          names: true,
          cell: (each) =>
            html`<a class="long-name" href="/office/accounts/${each.accountId}">${each.accountName}</a>`,
        },
        { header: 'Code', cell: (each) => html`<span class="code">${each.code}</span>` },
        { header: 'Why', cell: (each) => each.reason },
        { header: 'From', cell: firstDayShown },
        { header: 'To', cell: lastDayShown },
        {
          header: 'List',
          figure: true,
          cell: (each) => (each.listMinor === null ? 'no rate' : money(each.listMinor, book.currency)),
        },
        { header: 'Price', figure: true, cell: (each) => money(each.priceMinor, book.currency) },
        { header: 'To list', figure: true, cell: (each) => toList(each, book.currency) },
        ...(mayChange ? [ending] : []),
      ],
      rows,
      empty: emptyState('No account has its own price', 'All pay by their contract or tier.'),
    })}
    ${mayChange && html`<p class="hint">An account gets its own price on <a href="/office/accounts">its page</a>.</p>`}
  </section>`;
}

/** “−$105.00, −53.8 %”: what the account pays less than list, or more. */
function toList({ priceMinor, listMinor }: AccountPriceView, currency: string): string {
  if (listMinor === null) return '';
  const apart = priceMinor - listMinor;
  const tenths = (apart * 2000n + (apart < 0n ? -listMinor : listMinor)) / (2n * listMinor);
  const sign = apart > 0n ? '+' : '';
  const percent = displayPercent({ digits: tenths < 0n ? -tenths : tenths, scale: 1 });
  return `${sign}${moneyText(apart, currency)}, ${apart < 0n ? '−' : sign}${percent}`;
}
