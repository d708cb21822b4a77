import { allows, type Day, displayPercent, formatDecimal } from '@grainwright/domain';
import type { PriceBookView, RateWithPrices } from '@grainwright/operations';
import { actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayText, money } from '../../../look/figures.ts';
import { dateField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { accountPrices } from './account-prices-view.ts';
import { bandWords, onlyForWords } from './band-words.ts';
import { coming } from './coming-view.ts';
import { contracts } from './contracts-view.ts';
import { inForce } from './dated.ts';
import { factors, taxes, tiers } from './setup-view.ts';
import { terms } from './terms-shown.ts';

export interface PriceBookPageView {
  readonly frame: Frame;
  readonly book: PriceBookView;
}

/** The price book as it stands on one day; what comes later is shown apart, what is over stands with its code. */
export function priceBookView({ frame, book }: PriceBookPageView): Html {
  const { on } = book;
  const mayChange = allows(frame.me.role, 'change_price_book');
  return officePage({
    ...frame,
    title: 'Price book',
    heading: 'Price book',
    lead: `Prices for work on ${dayText(on)}. The list price, less the tier, is the price before further repairs.`,
    beside: mayChange && [
      quietLink({ label: 'Price lists in the making', href: '/office/price-book/drafts' }),
      actionLink({ label: 'Add a rate', href: '/office/price-book/rates/new' }),
    ],
    current: 'price-book',
    wide: true,
    body: html`<form class="filters" method="get" action="/office/price-book">
        ${dateField({ name: 'on', label: 'Prices of the day', value: on })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${coming(book)}
      ${rates(book, on)}
      ${columns([tiers(book), factors(book)])}
      ${columns([terms(book, on, mayChange), taxes(book, on)])}
      ${contracts(book, mayChange)}
      ${accountPrices(book, mayChange)}`,
  });
}

function rates(book: PriceBookView, on: Day): Html {
  const current = book.rates.filter(inForce(on));
  const families = [...new Set(current.map((rate) => rate.family))].toSorted();
  const rows = families.flatMap((family) =>
    current.filter((rate) => rate.family === family).toSorted(bySize),
  );
  const tierColumns = book.tiers.map(
    (tier, index): Column<RateWithPrices> => ({
      header: tier.name,
      figure: true,
      cell: (rate) => money(rate.tierPricesMinor[index] ?? rate.listMinor, book.currency),
    }),
  );
  return html`<section><h2>Rates</h2>
    ${dataTable({
      caption: 'Rates',
      captionHidden: true,
      columns: [
        {
          header: 'Code',
          names: true,
          cell: (rate) =>
            html`<a class="code" href="${`/office/price-book/rates/${rate.code}`}">${rate.code}</a>`,
        },
        { header: 'Family', cell: (rate) => rate.family },
        { header: 'Repair', cell: (rate) => repairCell(rate) },
        { header: 'Size', cell: bandWords },
        { header: 'Labor', figure: true, cell: (rate) => money(rate.laborMinor, book.currency) },
        { header: 'Materials', figure: true, cell: (rate) => materialsCell(rate, book.currency) },
        { header: 'List', figure: true, cell: (rate) => money(rate.listMinor, book.currency) },
        ...tierColumns,
      ],
      rows,
      csvHref: `/office/price-book/rates.csv?on=${on}`,
      empty: emptyState('No rate on this day', 'Whatever is written up is priced by hand.'),
    })}
    <p class="hint">Bigger than the largest size, or a repair without a rate: priced by hand, never free.</p>
  </section>`;
}

function bySize(a: RateWithPrices, b: RateWithPrices): number {
  const [from, to] = [a, b].map((rate) =>
    rate.overInches === null ? 0 : Number(formatDecimal(rate.overInches)),
  );
  return (from ?? 0) - (to ?? 0);
}

/** The materials of the list price, and their share of it. */
function materialsCell(rate: RateWithPrices, currency: string): Html {
  return html`${money(rate.materialsMinor, currency)}<br><span class="hint">${displayPercent(rate.materialsPercent)}</span>`;
}

function repairCell(rate: RateWithPrices): Html {
  const only = onlyForWords(rate);
  return html`${rate.repair}${only !== '' && html`<br><span class="hint">only ${only}</span>`}${!rate.takesFurtherRepair && html`<br><span class="hint">always at its own price</span>`}`;
}
