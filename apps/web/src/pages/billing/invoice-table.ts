import { daysBetween } from '@grainwright/domain';
import type { InvoiceList, InvoiceRowView, Me } from '@grainwright/operations';
import { quietLink } from '../../look/buttons.ts';
import { ageText, dayShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { type Column, dataTable, emptyState } from '../../look/tables.ts';

export interface InvoiceTable {
  readonly list: InvoiceList;
  readonly me: Me;
  /** Where its invoices and its further pages are: `/office/invoices`. */
  readonly base: string;
  /** The filters that the next page keeps. */
  readonly query: Readonly<Record<string, string>>;
  readonly withAccount: boolean;
}

/** A page of invoices, newest first, with the link to the older ones. */
export function invoiceTable(table: InvoiceTable): Html {
  const { list, base, me, query } = table;
  const older = list.next === null ? null : new URLSearchParams({ ...query, before: list.next });
  const account: readonly Column<InvoiceRowView>[] = table.withAccount
    ? [{ header: 'Account', cell: (row) => row.accountName }]
    : [];
  return html`${dataTable({
    caption: 'Invoices, newest first',
    captionHidden: true,
    columns: [
      {
        header: 'Invoice',
        names: true,
        cell: (row) => html`<a href="${`${base}/${row.id}`}">${row.number}</a>`,
      },
      ...account,
      { header: 'Numbers', cell: (row) => html`<span class="long-name">${numbersShown(row.numbers)}</span>` },
      { header: 'Date', cell: (row) => dayShown(row.issuedOn) },
      { header: 'Due', cell: (row) => dayShown(row.dueOn) },
      { header: 'Status', cell: (row) => invoiceStatus(row, me) },
      { header: 'Total', figure: true, cell: (row) => money(row.totalMinor, row.currency) },
      { header: 'Open', figure: true, cell: (row) => money(row.openMinor, row.currency) },
    ],
    rows: list.rows,
    empty: emptyState('No invoices here', 'There is none that fits. Accepted work becomes an invoice here.'),
  })}
  ${older && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Older invoices', href: `${base}?${older}` })}</nav>`}`;
}

/** The first of the account's numbers on an invoice, and how many more there are. */
export function numbersShown(numbers: readonly string[]): string {
  const more = numbers.length - namedMax;
  const named = numbers.slice(0, namedMax).join('; ');
  return more > 0 ? `${named} and ${more} more` : named;
}

const namedMax = 3;

/** Where an invoice stands today, in a word. */
export function invoiceStatus(row: InvoiceRowView, me: Pick<Me, 'today'>): Html {
  if (row.voidedOn !== null) return statusWord('stopped', 'void');
  if (row.openMinor === 0n) return statusWord('settled', row.paidMinor > 0n ? 'paid' : 'settled');
  if (row.disputedMinor === row.openMinor) return statusWord('problem', 'in dispute');
  if (row.overdue) return statusWord('problem', `${ageText(daysBetween(row.dueOn, me.today))} overdue`);
  return row.paidMinor > 0n ? statusWord('moving', 'partly paid') : statusWord('waiting', 'open');
}
