import type { DecisionView, WorkOrderView } from '@grainwright/operations';
import { sums } from '../../look/document-sheet.ts';
import { instantShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { dataTable } from '../../look/tables.ts';

/** Who said what, when, line by line, at the prices frozen with it. */
export function decisionShown(
  view: Pick<WorkOrderView, 'lines' | 'currency'>,
  decision: DecisionView,
  timeZone: string,
): Html {
  const { currency } = view;
  const amount = (minor: bigint) => money(minor, currency);
  return html`<p>${decision.decidedBy}, ${instantShown(decision.decidedAt, timeZone)}</p>
    ${dataTable({
      caption: 'The answer to each line',
      captionHidden: true,
      rows: decision.lines,
      empty: html`<p>There are no lines.</p>`,
      columns: [
        {
          header: 'Line',
          names: true,
          cell: (line) =>
            view.lines.find((each) => each.id === line.lineId)?.words ?? 'A line since taken away',
        },
        {
          header: 'Answer',
          cell: (line) => (line.reason === '' ? line.answer : `${line.answer}: ${line.reason}`),
        },
        { header: 'Why this price', cell: (line) => line.trail },
        {
          header: 'Price',
          figure: true,
          cell: (line) =>
            line.answer === 'approved' ? amount(line.netMinor) : html`${amount(line.netMinor)}, not billed`,
        },
      ],
    })}
    ${sums([
      ...(decision.minimumMinor === 0n
        ? []
        : [{ term: 'Vehicle minimum', value: amount(decision.minimumMinor) }]),
      {
        term: decision.minimumMinor === 0n ? 'Repairs' : 'Repairs with the minimum',
        value: amount(decision.repairsMinor),
      },
      ...(decision.afterHoursMinor === 0n
        ? []
        : [{ term: 'After hours', value: amount(decision.afterHoursMinor) }]),
      { term: 'Trip', value: amount(decision.tripMinor) },
      { term: 'Tax', value: amount(decision.taxMinor) },
      { term: 'Approved', value: amount(decision.totalMinor) },
    ])}`;
}
