import { contains, type Day, displayPercent, formatDecimal } from '@grainwright/domain';
import type { PriceBookView, RateWithPrices } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayShown, dayText, money, moneyText } from '../../../look/figures.ts';
import { dateField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { type Column, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

export interface PriceBookPageView {
  readonly frame: Frame;
  readonly book: PriceBookView;
  /** The day whose prices are shown. */
  readonly on: Day;
}

/** The price book as it stands on one day; what comes later is said, what is over is left out. */
export function priceBookView({ frame, book, on }: PriceBookPageView): Html {
  return officePage({
    ...frame,
    title: 'Price book',
    heading: 'Price book',
    lead: `Prices for work on ${dayText(on)}. The list price, less the tier, is the price before further repairs.`,
    current: 'price-book',
    wide: false,
    body: html`<form class="filters" method="get" action="/office/price-book">
        ${dateField({ name: 'on', label: 'Prices of the day', value: on })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${rates(book, on)}
      ${columns([tiers(book), factors(book)])}
      ${columns([terms(book, on), taxes(book, on)])}
      ${accountPrices(book, on)}`,
  });
}

interface Dated {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

function inForce(on: Day) {
  return (row: Dated): boolean => contains({ from: row.validFrom, to: row.validTo }, on);
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
    ${comingWords(book.rates, on, 'Other rates')}
    ${dataTable({
      caption: 'Rates',
      captionHidden: true,
      narrow: 'scroll',
      columns: [
        { header: 'Code', names: true, cell: (rate) => html`<span class="code">${rate.code}</span>` },
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

function bandWords({ overInches, toInches }: RateWithPrices): string {
  if (overInches === null || toInches === null) return 'not measured';
  return overInches.digits === 0n
    ? `up to ${formatDecimal(toInches)} in`
    : `over ${formatDecimal(overInches)} to ${formatDecimal(toInches)} in`;
}

function tiers({ tiers: all, currency }: PriceBookView): Html {
  return html`<h2>Tiers</h2>
    ${dataTable({
      caption: 'Tiers',
      captionHidden: true,
      columns: [
        { header: 'Tier', names: true, cell: (tier) => tier.name },
        { header: 'Off list', figure: true, cell: (tier) => displayPercent(tier.discountPercent) },
        {
          header: 'Minimum a vehicle',
          figure: true,
          cell: (tier) => money(tier.vehicleMinimumMinor, currency),
        },
        {
          header: 'Trip waived from',
          figure: true,
          cell: (tier) =>
            tier.tripWaivedFromMinor === null ? 'never' : money(tier.tripWaivedFromMinor, currency),
        },
      ],
      rows: all,
      empty: emptyState('No tier yet', 'An account buys by a tier. The owner adds them.'),
    })}`;
}

function factors(book: PriceBookView): Html {
  return html`<h2>Care factors</h2>
    ${dataTable({
      caption: 'Care factors',
      captionHidden: true,
      columns: [
        { header: 'Factor', names: true, cell: (factor) => factor.name },
        { header: 'Code', cell: (factor) => html`<span class="code">${factor.code}</span>` },
        { header: 'Times', figure: true, cell: (factor) => displayPercent(factor.percent) },
      ],
      rows: book.factors,
      empty: emptyState('No care factor', 'Every repair costs what its rate says.'),
    })}`;
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

function taxes(book: PriceBookView, on: Day): Html {
  return html`<h2>Taxes</h2>
    ${notice('info', 'Which charges are taxed is your decision', 'It differs from state to state. Decide it with your licensed adviser; this program only computes what is set here.')}
    ${book.taxAreas.length === 0 && emptyState('No tax area yet', 'An account is taxed where its vehicles are handed over. The owner adds the places.')}
    ${definitionList(
      book.taxAreas.map((area) => {
        const parts = area.rates
          .filter(inForce(on))
          .map((part) => `${part.component} ${displayPercent(part.ratePercent)}`);
        const taxed = area.classes.find(inForce(on))?.taxable ?? [];
        return {
          term: `${area.code}, ${area.name}`,
          value: html`${parts.length === 0 ? 'no rate on this day' : parts.join(', ')}<br>taxed: ${taxed.length === 0 ? 'nothing' : taxed.join(', ')}`,
        };
      }),
    )}`;
}

function accountPrices(book: PriceBookView, on: Day): Html {
  return html`<section><h2>Accounts’ own prices</h2>
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
        { header: 'From', cell: (each) => dayShown(each.validFrom) },
        { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
        { header: 'Price', figure: true, cell: (each) => money(each.priceMinor, book.currency) },
      ],
      rows: book.accountPrices.filter((each) => each.validTo === null || each.validTo >= on),
      empty: emptyState('None', 'Every account pays the price of its tier.'),
    })}
  </section>`;
}
