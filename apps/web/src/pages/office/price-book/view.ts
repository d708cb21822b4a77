import { allows, type Day, displayPercent, formatDecimal } from '@grainwright/domain';
import type { PriceBookView, RateWithPrices } from '@grainwright/operations';
import { actionLink, quietButton } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayText, money, moneyText } from '../../../look/figures.ts';
import { dateField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { type Column, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { accountPrices } from './account-prices-view.ts';
import { bandWords } from './band-words.ts';
import { coming } from './coming-view.ts';
import { type Dated, inForce } from './dated.ts';
import { factors, taxes, tiers } from './setup-view.ts';

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
    beside: mayChange && actionLink({ label: 'Add a rate', href: '/office/price-book/rates/new' }),
    current: 'price-book',
    wide: true,
    body: html`<form class="filters" method="get" action="/office/price-book">
        ${dateField({ name: 'on', label: 'Prices of the day', value: on })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${coming(book)}
      ${rates(book, on)}
      ${columns([tiers(book), factors(book)])}
      ${columns([terms(book, on), taxes(book, on)])}
      ${accountPrices(book, mayChange)}`,
  });
}

/** A sentence on what starts after the day; nothing where nothing does. */
function comingWords(rows: readonly Dated[], on: Day, what: string): Html | false {
  const starts = [
    ...new Set(rows.filter((row) => row.validFrom > on).map((row) => row.validFrom)),
  ].toSorted();
  return (
    starts.length > 0 &&
    html`<p>${what} from ${starts.map((start, index) => [index > 0 && ', ', html`<a href="/office/price-book?on=${start}">${dayText(start)}</a>`])}.</p>`
  );
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
        { header: 'Materials', figure: true, cell: (rate) => displayPercent(rate.materialsPercent) },
        { header: 'List', figure: true, cell: (rate) => money(rate.listMinor, book.currency) },
        ...tierColumns,
      ],
      rows,
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

function repairCell(rate: RateWithPrices): Html {
  return html`${rate.repair}${!rate.takesFurtherRepair && html`<br><span class="hint">always at its own price</span>`}`;
}

function terms(book: PriceBookView, on: Day): Html {
  const current = book.terms.find(inForce(on));
  const heading = html`<h2>Terms</h2>${comingWords(book.terms, on, 'Other terms')}`;
  if (current === undefined)
    return html`${heading}${emptyState('No terms on this day', 'Nothing can be priced without them. The owner sets them.')}`;
  const amount = (minor: bigint) => moneyText(minor, book.currency);
  return html`${heading}${definitionList([
    { term: 'Several repairs', value: furtherWords(current.furtherRepairPercents.map(displayPercent)) },
    {
      term: 'Trip',
      value: `${amount(current.tripMinor)} once a visit; every mile over ${formatDecimal(current.milesIncluded)} costs ${amount(current.mileMinor)}`,
    },
    {
      term: 'After hours',
      value: `${displayPercent(current.afterHoursPercent)} of the visit’s repairs, at least ${amount(current.afterHoursMinimumMinor)}`,
    },
    {
      term: 'Deposit',
      value: `asked of retail from ${amount(current.depositFromMinor)}: ${displayPercent(current.depositPercent)}, up to the next ${amount(current.depositStepMinor)}`,
    },
  ])}`;
}

/** “100 %, then 90 %, then 80 % each”: the dearest repair on a vehicle comes first. */
function furtherWords(percents: readonly string[]): string {
  if (percents.length === 1) return `${percents[0]} for each repair on a vehicle`;
  return `${percents.join(', then ')} for every further one on the same vehicle, the dearest first`;
}
