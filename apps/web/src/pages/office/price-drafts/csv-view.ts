import type { Problem } from '@grainwright/domain';
import type { PriceDraftView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, fileField, hiddenCsrf, hiddenField, textArea } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { draftPath } from './draft-view.ts';

export interface CsvPage {
  readonly frame: Frame;
  readonly draft: PriceDraftView;
  /** What was pasted, or stood in the file. */
  readonly text: string;
  readonly problem: Problem | null;
}

/** Reads a whole list in from a file or from what is pasted. What is wrong stands in a table, the text stays to be mended. */
export function csvPage({ frame, draft, text, problem }: CsvPage): Html {
  const rows = problem?.errors ?? [];
  const { errorOf, summary } = problemsOf(rows.length > 0 ? null : problem, ['csv', 'file']);
  return officePage({
    ...frame,
    title: `Read a CSV into ${draft.name}`,
    heading: 'Read a CSV in',
    lead: `Its rows take the place of all rows of “${draft.name}”. A code that isn’t in it ends when the list begins to count.`,
    beside: quietLink({ label: draft.name, href: draftPath(draft.id) }),
    current: 'price-book',
    wide: true,
    body: html`${errorSummary(summary)}
      ${rows.length > 0 && wrongRows(rows)}
      <form method="post" action="${draftPath(draft.id, 'csv')}" enctype="multipart/form-data" novalidate>
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('revision', String(draft.revision))}
        <div class="whole-table">${[
          textArea({
            name: 'csv',
            label: 'Paste it, or mend it here',
            hint: 'Columns separated by commas, not by semicolons; the names of the columns in the first row',
            value: text,
            error: errorOf('csv'),
            rows: 16,
          }),
          fileField({
            name: 'file',
            label: 'Or choose a file',
            hint: 'CSV in UTF-8, 1 MB and 2,000 rows at most. A file goes before what is pasted.',
            accept: '.csv,text/csv',
            error: errorOf('file'),
          }),
        ]}</div>
        <div class="buttons">${actionButton({ label: 'Read it in' })}</div>
      </form>
      <section><h2>What the columns hold</h2>
        <p>The easiest start is <a href="${draftPath(draft.id, 'list.csv')}">this list as CSV</a>: change it in a spreadsheet and read it in again.</p>
        ${columnsTable()}</section>`,
  });
}

function wrongRows(errors: readonly { readonly field: string; readonly detail: string }[]): Html {
  return notice(
    'problem',
    errors.length === 1
      ? 'One thing to correct; nothing was taken'
      : `${errors.length} things to correct; nothing was taken`,
    dataTable({
      caption: 'What is to be corrected',
      captionHidden: true,
      columns: [
        { header: 'Row', names: true, cell: ({ field }: { field: string }) => field.split('.')[1] ?? '' },
        {
          header: 'Column',
          cell: ({ field }) => html`<span class="code">${field.split('.')[2] ?? ''}</span>`,
        },
        { header: 'What is wrong', cell: ({ detail }) => detail.replace(/^Row \d+[^:]*: /, '') },
      ],
      rows: errors,
      empty: html``,
    }),
  );
}

const columns: readonly (readonly [string, string])[] = [
  ['code', 'capitals, figures and dashes, each code once: VC-M'],
  ['repair', 'as documents say it'],
  ['family', 'rates that differ only by size share one'],
  ['over_inches, to_inches', 'the sizes it covers, like 1 and 3; both empty where nothing is measured'],
  ['part, material', 'empty: any; the columns stand there all the same'],
  ['list', 'the list price, like 195.00'],
  ['materials_percent', 'what of it is materials, like 12'],
  [
    'takes_further_repair',
    'yes or no: cheaper as a further repair on the same vehicle, dearer by a care factor',
  ],
  ['repairs_damage', 'yes or no: mends damage, and so needs photos'],
];

function columnsTable(): Html {
  return dataTable({
    caption: 'Columns',
    captionHidden: true,
    columns: [
      {
        header: 'Column',
        names: true,
        cell: ([name]: readonly [string, string]) => html`<span class="code">${name}</span>`,
      },
      { header: 'What it holds', cell: ([, words]) => words },
    ],
    rows: columns,
    empty: html``,
  });
}
