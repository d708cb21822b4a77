import { type Day, displayPercent } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import { inForce } from './dated.ts';

/** What each tier pays by on the day. */
export function tiers({ tiers: all, currency }: PriceBookView): Html {
  return html`<h2>Tiers</h2>
    ${dataTable({
      caption: 'Tiers',
      captionHidden: true,
      columns: [
        {
          header: 'Tier',
          names: true,
          cell: (tier) => html`<a href="${`/office/price-book/tiers/${tier.code}`}">${tier.name}</a>`,
        },
        { header: 'Off list', figure: true, cell: (tier) => displayPercent(tier.discountPercent) },
        {
          header: 'Minimum a vehicle',
          figure: true,
          cell: (tier) => money(tier.vehicleMinimumMinor, currency),
        },
        {
          header: 'At most a vehicle',
          figure: true,
          cell: (tier) =>
            tier.vehicleCapMinor === null ? 'no limit' : money(tier.vehicleCapMinor, currency),
        },
        {
          header: 'Minimum a visit',
          figure: true,
          cell: (tier) => (tier.visitMinimumMinor === 0n ? 'none' : money(tier.visitMinimumMinor, currency)),
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

/** What makes a repair dearer on the day. */
export function factors(book: PriceBookView): Html {
  return html`<h2>Care factors</h2>
    ${dataTable({
      caption: 'Care factors',
      captionHidden: true,
      columns: [
        {
          header: 'Factor',
          names: true,
          cell: (factor) =>
            html`<a href="${`/office/price-book/care-factors/${factor.code}`}">${factor.name}</a>`,
        },
        { header: 'Code', cell: (factor) => html`<span class="code">${factor.code}</span>` },
        { header: 'Times', figure: true, cell: (factor) => displayPercent(factor.percent) },
      ],
      rows: book.factors,
      empty: emptyState('No care factor', 'Every repair costs what its rate says.'),
    })}`;
}

/** Which charges are taxed is never the program's to say. */
export function adviserNotice(): Html {
  return notice(
    'info',
    'Which charges are taxed is your decision',
    'It differs from state to state. Decide it with your licensed adviser; this program only computes what is set here.',
  );
}

/** How each place taxes on the day. */
export function taxes(book: PriceBookView, on: Day): Html {
  return html`<h2>Taxes</h2>
    ${adviserNotice()}
    ${book.taxAreas.length === 0 && emptyState('No tax area yet', 'An account is taxed where its vehicles are handed over. The owner adds the places.')}
    ${definitionList(
      book.taxAreas.map((area) => {
        const parts = area.rates
          .filter(inForce(on))
          .map((part) => `${part.component} ${displayPercent(part.ratePercent)}`);
        const taxed = area.classes.find(inForce(on))?.taxable ?? [];
        return {
          term: html`<a href="${`/office/price-book/tax-areas/${encodeURIComponent(area.code)}`}">${area.code}, ${area.name}</a>`,
          value: html`${parts.length === 0 ? 'no rate on this day' : parts.join(', ')}<br>taxed: ${taxed.length === 0 ? 'nothing' : taxed.join(', ')}`,
        };
      }),
    )}`;
}
