import { workOrderStates } from '@grainwright/domain';
import type { EarlierWorkView } from '@grainwright/operations';
import { dayShown, dayText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { dataTable } from '../../look/tables.ts';
import { workOrderNumber } from './state-words.ts';

/** Work orders side by side, to see whether they are about the same damage. */
interface SideBySide {
  readonly heading: string;
  readonly rows: readonly { readonly term: string; readonly words: string }[];
}

/** What is written up now beside what was written up lately, row by row. */
export function besideEachOther(now: SideBySide, earlier: EarlierWorkView, base: string): Html {
  const other: SideBySide = {
    heading: `${workOrderNumber(earlier.number)}, ${workOrderStates[earlier.state]}`,
    rows: [
      { term: 'Vehicle', words: earlier.vehicle },
      { term: 'Account', words: earlier.accountName },
      { term: 'Its number', words: earlier.ownNumber },
      { term: 'Day', words: dayText(earlier.day) },
      { term: 'Technician', words: earlier.technician },
      { term: 'Lines', words: earlier.lines.map(({ words }) => words).join('; ') },
    ],
  };
  const wordsOf = (side: SideBySide, term: string) => side.rows.find((row) => row.term === term)?.words ?? '';
  return html`${dataTable({
    caption: 'Side by side',
    rows: other.rows,
    empty: html`<p>Nothing to compare.</p>`,
    columns: [
      { header: 'Of', names: true, cell: ({ term }) => term },
      { header: now.heading, cell: ({ term }) => wordsOf(now, term) },
      { header: other.heading, cell: ({ words }) => words },
    ],
  })}
    <p><a href="${base}/${earlier.id}">Look at ${workOrderNumber(earlier.number)}</a></p>`;
}

/** What else was written up of the vehicle, in a line each. */
export function earlierLines(earlier: readonly EarlierWorkView[], base: string): Html {
  return html`<ul>${earlier.map(
    (each) =>
      html`<li><a href="${base}/${each.id}">${workOrderNumber(each.number)}</a>, ${dayShown(each.day)}, ${workOrderStates[each.state]}: ${
        each.lines.length === 0 ? 'no line yet' : each.lines.map(({ words }) => words).join('; ')
      }</li>`,
  )}</ul>`;
}
