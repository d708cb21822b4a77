import type { CreditNoteList, CreditNoteRowView } from '@grainwright/operations';
import { quietLink } from '../../look/buttons.ts';
import { dayShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Column, dataTable, emptyState } from '../../look/tables.ts';

/** A page of credit notes, newest first, with the link to the older ones; `base` is where they are. */
export function creditNoteTable(table: {
  readonly list: CreditNoteList;
  readonly base: string;
  readonly invoices: string;
  readonly query: Readonly<Record<string, string>>;
  readonly withAccount: boolean;
}): Html {
  const { list, base, query } = table;
  const older = list.next === null ? null : new URLSearchParams({ ...query, before: list.next.toString() });
  const account: readonly Column<CreditNoteRowView>[] = table.withAccount
    ? [{ header: 'Account', cell: (row) => row.accountName }]
    : [];
  return html`${dataTable({
    caption: 'Credit notes, newest first',
    captionHidden: true,
    columns: [
      {
        header: 'Credit note',
        names: true,
        cell: (row) => html`<a href="${`${base}/${row.id}`}">${row.number}</a>`,
      },
      ...account,
      { header: 'Date', cell: (row) => dayShown(row.issuedOn) },
      {
        header: 'On invoice',
        cell: (row) => html`<a href="${`${table.invoices}/${row.invoiceId}`}">${row.invoiceNumber}</a>`,
      },
      { header: 'Reason', cell: (row) => row.reason },
      { header: 'Credit', figure: true, cell: (row) => money(row.totalMinor, row.currency) },
      { header: 'Left', figure: true, cell: (row) => money(row.unappliedMinor, row.currency) },
    ],
    rows: list.rows,
    empty: emptyState('No credit notes here', 'A credit note is issued from the page of its invoice.'),
  })}
  ${older && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Older credit notes', href: `${base}?${older}` })}</nav>`}`;
}
