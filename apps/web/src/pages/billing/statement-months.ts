import type { StatementList, StatementMonth } from '@grainwright/operations';
import { money, monthText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
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
      { header: 'Statement', cell: standing },
      { header: 'Opening', figure: true, cell: (row) => money(row.openingMinor, currency) },
      { header: 'Charges', figure: true, cell: (row) => money(row.chargesMinor, currency) },
      { header: 'Credits', figure: true, cell: (row) => money(-row.creditsMinor, currency) },
      { header: 'Payments', figure: true, cell: (row) => money(-row.paymentsMinor, currency) },
      { header: 'Closing', figure: true, cell: (row) => money(row.closingMinor, currency) },
      { header: 'File', cell: (row) => files(row, base) },
    ],
    rows: list.months,
    empty: emptyState('No statements yet', 'There is one for every month from the first invoice on.'),
  });
}

function standing({ issuedAt }: StatementMonth): Html {
  return issuedAt === null ? statusWord('waiting', 'not issued yet') : statusWord('settled', 'issued');
}

function files({ month, issuedAt }: StatementMonth, base: string): Html {
  return html`${issuedAt !== null && html`<a href="${`${base}/${month}.pdf`}">PDF</a>, `}<a href="${`${base}/${month}.csv`}">CSV</a>`;
}
