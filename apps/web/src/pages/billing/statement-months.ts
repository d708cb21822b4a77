import type { StatementList } from '@grainwright/operations';
import { money, monthText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { dataTable, emptyState } from '../../look/tables.ts';

/** The months of an account, each leading to its statement under `base`. */
export function statementMonths(list: StatementList, base: string): Html {
  const { currency } = list;
  return dataTable({
    caption: 'Months, latest first',
    captionHidden: true,
    columns: [
      {
        header: 'Month',
        names: true,
        cell: (row) => html`<a href="${`${base}/${row.month}`}">${monthText(row.month)}</a>`,
      },
      { header: 'Opening', figure: true, cell: (row) => money(row.openingMinor, currency) },
      { header: 'Charges', figure: true, cell: (row) => money(row.chargesMinor, currency) },
      { header: 'Credits', figure: true, cell: (row) => money(-row.creditsMinor, currency) },
      { header: 'Payments', figure: true, cell: (row) => money(-row.paymentsMinor, currency) },
      { header: 'Closing', figure: true, cell: (row) => money(row.closingMinor, currency) },
      { header: 'File', cell: (row) => html`<a href="${`${base}/${row.month}.csv`}">CSV</a>` },
    ],
    rows: list.months,
    empty: emptyState('No statements yet', 'There is one for every month from the first invoice on.'),
  });
}
