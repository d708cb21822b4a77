import { type Day, displayPercent, formatDecimal } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayText, moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { definitionList, emptyState } from '../../../look/tables.ts';
import { type Dated, inForce } from './dated.ts';

/** The terms of the day, and the way to set others. */
export function terms(book: PriceBookView, on: Day, mayChange: boolean): Html {
  const current = book.terms.find(inForce(on));
  const heading = html`<h2>Terms</h2>${comingWords(book.terms, on, 'Other terms')}`;
  const change =
    mayChange && html`<p>${quietLink({ label: 'Set terms', href: '/office/price-book/terms' })}</p>`;
  if (current === undefined)
    return html`${heading}${emptyState('No terms on this day', 'Nothing can be priced without them. The owner sets them.')}${change}`;
  const amount = (minor: bigint) => moneyText(minor, book.currency);
  return html`${heading}${definitionList([
    { term: 'Several repairs', value: furtherWords(current.furtherRepairPercents.map(displayPercent)) },
    { term: 'Trip', value: tripWords(current, amount) },
    {
      term: 'After hours',
      value: `${displayPercent(current.afterHoursPercent)} of the visit’s repairs, at least ${amount(current.afterHoursMinimumMinor)}`,
    },
    {
      term: 'Rush',
      value:
        current.rushPercent.digits === 0n && current.rushMinimumMinor === 0n
          ? 'without charge'
          : `${displayPercent(current.rushPercent)} of the visit’s repairs, at least ${amount(current.rushMinimumMinor)}`,
    },
    {
      term: 'Deposit',
      value: `asked of retail from ${amount(current.depositFromMinor)}: ${displayPercent(current.depositPercent)}, up to the next ${amount(current.depositStepMinor)}`,
    },
    ...(current.floorPercent === null
      ? []
      : [
          {
            term: 'Floor',
            value: `below ${displayPercent(current.floorPercent)} of list the owner has to consent`,
          },
        ]),
  ])}${change}`;
}

/** “Valley, up to 20 mi: $45.00; every mile over 20 costs $1.50”. */
function tripWords(
  { tripMinor, milesIncluded, mileMinor, tripZones }: PriceBookView['terms'][number],
  amount: (minor: bigint) => string,
): string {
  const last = tripZones.at(-1);
  const over = `every mile over ${formatDecimal(last?.upToMiles ?? milesIncluded)} costs ${amount(mileMinor)}`;
  if (last === undefined) return `${amount(tripMinor)} once a visit; ${over}`;
  const zones = tripZones.map(
    (zone) => `${zone.name}, up to ${formatDecimal(zone.upToMiles)} mi: ${amount(zone.amountMinor)}`,
  );
  return `once a visit, by zone. ${zones.join('; ')}; ${over}`;
}

/** “100 %, then 90 %, then 80 % each”: the dearest repair on a vehicle comes first. */
function furtherWords(percents: readonly string[]): string {
  if (percents.length === 1) return `${percents[0]} for each repair on a vehicle`;
  return `${percents.join(', then ')} for every further one on the same vehicle, the dearest first`;
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
