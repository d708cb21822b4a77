import { formatDecimal } from '@grainwright/domain';
import type { CreditPreview } from '@grainwright/operations';
import { money, moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';

/** What a credit note would come to, line by line, with how what remains came about. */
export function previewPart(preview: CreditPreview, changed: boolean): Html {
  const { currency } = preview;
  return html`<section><h2>What it comes to</h2>
    ${changed && notice('problem', 'Look it over again', 'What you asked for comes to something else than was shown. Nothing was issued.')}
    ${dataTable({
      caption: `${preview.invoiceNumber}, before and after`,
      columns: [
        { header: 'Line', names: true, cell: (line) => line.description },
        { header: 'Before', figure: true, cell: (line) => money(line.beforeMinor, currency) },
        { header: 'After', figure: true, cell: (line) => money(line.afterMinor, currency) },
        { header: 'Credit', figure: true, cell: (line) => money(line.creditMinor, currency) },
        { header: 'How it comes about', cell: howOf },
      ],
      rows: preview.lines,
      empty: emptyState('No line', 'This invoice has no line.'),
    })}
    ${definitionList([
      { term: 'Credit before tax', value: money(preview.netMinor, currency) },
      ...preview.taxes.map((tax) => ({
        term: `${tax.areaName} ${tax.component.toLowerCase()} tax, ${formatDecimal(tax.ratePercent)} %`,
        value: html`${moneyText(tax.beforeMinor, currency)} less ${moneyText(tax.afterMinor, currency)}: ${money(tax.creditMinor, currency)}`,
      })),
      { term: 'Credit', value: html`<b>${money(preview.totalMinor, currency)}</b>` },
      { term: `Applied to ${preview.invoiceNumber}`, value: money(preview.appliedMinor, currency) },
      { term: 'Stays as credit of the account', value: money(preview.leftMinor, currency) },
      { term: `Then open of ${preview.invoiceNumber}`, value: money(preview.openAfterMinor, currency) },
    ])}
    <p>Tax is what was charged less what is due on the rest, each component by itself. A trip that was waived or a
      minimum that was reached stays as it was: a credit never brings one back.</p>
  </section>`;
}

function howOf(line: CreditPreview['lines'][number]): string {
  if (line.creditMinor === 0n) return 'as issued';
  return line.trail === '' ? 'taken off' : line.trail;
}
