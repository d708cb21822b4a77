/**
 * dataTable({caption, columns, rows, empty, totalsLabel?, csvHref?, narrow?}): a caption, figures to the
 * right, totals in the foot. On a narrow screen a row becomes a block of labels and values (`stack`, the
 * default), or the table scrolls under its caption in a region that takes the focus (`scroll`).
 * definitionList(entries), emptyState(heading, words, action?).
 */
import { attributes, type Fragment, type Html, html } from './html.ts';

export interface Column<Row> {
  readonly header: string;
  readonly cell: (row: Row) => Fragment;
  /** Amounts, counts and ages: to the right, figures of one width. */
  readonly figure?: boolean;
  /** The cell that names the row: a number, a name. One column of a table. */
  readonly names?: boolean;
  /** What stands in the totals row. */
  readonly total?: Fragment;
}

export interface DataTable<Row> {
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  /** Shown instead of a table without rows. */
  readonly empty: Html;
  readonly totalsLabel?: string;
  readonly csvHref?: string;
  readonly narrow?: 'stack' | 'scroll';
  /** The caption stays for those who hear the page, where a heading says the same already. */
  readonly captionHidden?: boolean;
}

export function dataTable<Row>(table: DataTable<Row>): Html {
  if (table.rows.length === 0) return table.empty;
  const scrolls = table.narrow === 'scroll';
  const region = scrolls ? { role: 'region', tabindex: 0, 'aria-label': table.caption } : {};
  const above = scrolls && !table.captionHidden;
  return html`${above && html`<p class="table-caption" aria-hidden="true">${table.caption}</p>`}<div ${attributes({ class: scrolls ? 'table-frame table-frame--scroll' : 'table-frame', ...region })}>
    <table class="${scrolls ? 'table' : 'table table--stack'}">
      <caption class="${(above || table.captionHidden) && 'heard'}">${table.caption}</caption>
      <thead><tr>${table.columns.map(head)}</tr></thead>
      <tbody>${table.rows.map((row) => html`<tr>${table.columns.map((column) => cell(column, row))}</tr>`)}</tbody>
      ${table.columns.some((column) => column.total !== undefined) && totals(table)}
    </table>
  </div>${table.csvHref !== undefined && html`<p class="table-csv"><a href="${table.csvHref}">This table as CSV</a></p>`}`;
}

export interface Definition {
  readonly term: Fragment;
  readonly value: Fragment;
}

export function definitionList(entries: readonly Definition[]): Html {
  return html`<dl class="definitions">${entries.map(
    (entry) => html`<div><dt>${entry.term}</dt><dd>${entry.value}</dd></div>`,
  )}</dl>`;
}

export function emptyState(heading: string, words: Fragment, action?: Html): Html {
  return html`<div class="empty">
    <p class="empty-heading">${heading}</p>
    <p>${words}</p>
    ${action}
  </div>`;
}

function head<Row>(column: Column<Row>): Html {
  return html`<th ${attributes({ scope: 'col', class: column.figure && 'figure' })}>${column.header}</th>`;
}

function cell<Row>(column: Column<Row>, row: Row): Html {
  const content = column.cell(row);
  const own = { class: column.figure && 'figure', 'data-label': column.header };
  return column.names
    ? html`<th ${attributes({ ...own, scope: 'row' })}><span class="cell">${content}</span></th>`
    : html`<td ${attributes(own)}><span class="cell">${content}</span></td>`;
}

/** The label takes the columns before the first total. */
function totals<Row>(table: DataTable<Row>): Html {
  const first = table.columns.findIndex((column) => column.total !== undefined);
  const rest = table.columns.slice(Math.max(first, 1));
  return html`<tfoot><tr>
    <th ${attributes({ scope: 'row', colspan: Math.max(first, 1) })}>${table.totalsLabel ?? 'Total'}</th>
    ${rest.map(
      (column) =>
        html`<td ${attributes({ class: column.figure && 'figure', 'data-label': column.header })}><span class="cell">${column.total}</span></td>`,
    )}
  </tr></tfoot>`;
}
