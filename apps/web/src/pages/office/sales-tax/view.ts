import type { SalesTaxReport, TaxFigures } from '@grainwright/domain';
import type { SalesTaxView } from '@grainwright/operations';
import { dayText, money, monthText } from '../../../look/figures.ts';
import { errorSummary } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import type { FormProblems } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { type AskedDays, daysForm } from '../report-days.ts';

export interface SalesTaxPage {
  readonly frame: Frame;
  readonly days: AskedDays;
  readonly problems: FormProblems;
  /** Null where the days can't be read. */
  readonly report: SalesTaxView | null;
}

type Row = SalesTaxReport['rows'][number];

export function salesTaxPage({ frame, days, problems, report }: SalesTaxPage): Html {
  return officePage({
    ...frame,
    title: 'Sales tax',
    heading: 'Sales tax',
    lead:
      report === null
        ? 'Choose the days.'
        : `${dayText(report.from)} to ${dayText(report.to)}, accrual basis: by the day of the invoice, credit note or void.`,
    current: 'sales-tax',
    wide: true,
    body: html`${errorSummary(problems.summary)}
      ${daysForm('/office/sales-tax', days, problems.errorOf)}
      ${report && reportBody(report)}`,
  });
}

function reportBody(report: SalesTaxView): Html {
  const { from, to, rows, total, currency } = report;
  const csvHref = `/office/sales-tax.csv?from=${from}&to=${to}`;
  const any = (of: (row: Row) => TaxFigures) =>
    rows.some((row) => of(row).grossMinor !== 0n || of(row).taxMinor !== 0n);
  const part = (caption: string, of: (parts: Omit<Row, 'month' | 'areaCode' | 'areaName'>) => TaxFigures) =>
    figuresTable({ caption, rows, of, total: of(total), currency });
  return html`${notice('info', 'Your licensed adviser decides what to file', 'This report adds up what was invoiced, credited and voided. Which charges are taxed and how a return is filled in is not for a program to say. Reporting by cash received is not offered.')}
    ${part('Net: invoices less credit notes and voids', (row) => row.net)}
    ${rows.length > 0 && html`<p class="table-csv"><a href="${csvHref}">All of it as CSV</a></p>`}
    <p>${tieOut(report)}</p>
    ${any((row) => row.invoices) && part('Invoices', (row) => row.invoices)}
    ${any((row) => row.creditNotes) && part('Credit notes', (row) => row.creditNotes)}
    ${any((row) => row.voids) && part('Voids of invoices of an earlier month', (row) => row.voids)}
    <p class="hint">Gross is exempt, non-taxable and taxable together, in every row. An invoice voided in its own month is left out. Return fees, late charges and balances brought forward are no sales and are not in it.</p>`;
}

function tieOut({ total, ledgerMinor, currency }: SalesTaxView): Html {
  const reclaimed =
    total.reclaimedMinor !== 0n &&
    html` Tax taken back with bad debts, apart from what was sold: ${money(total.reclaimedMinor, currency)}.`;
  return total.payableMinor === ledgerMinor
    ? html`${statusWord('settled', 'Ties out')} Tax payable in the ledger moved by ${money(ledgerMinor, currency)}.${reclaimed}`
    : html`${statusWord('problem', 'Does not tie out')} The report comes to ${money(total.payableMinor, currency)}, tax payable in the ledger to ${money(ledgerMinor, currency)}.${reclaimed}`;
}

function figuresTable(table: {
  readonly caption: string;
  readonly rows: readonly Row[];
  readonly of: (row: Row) => TaxFigures;
  readonly total: TaxFigures;
  readonly currency: string;
}): Html {
  const { rows, of, total, currency } = table;
  const amount = (header: string, minor: (figures: TaxFigures) => bigint): Column<Row> => ({
    header,
    figure: true,
    cell: (row) => money(minor(of(row)), currency),
    total: money(minor(total), currency),
  });
  const component = (name: string) => (figures: TaxFigures) =>
    figures.taxes.find((tax) => tax.component === name)?.amountMinor ?? 0n;
  const components = [...new Set(rows.flatMap((row) => row.net.taxes.map((tax) => tax.component)))];
  return dataTable({
    caption: table.caption,
    narrow: 'scroll',
    columns: [
      { header: 'Month', names: true, cell: (row) => monthText(row.month) },
      { header: 'Area', cell: (row) => `${row.areaCode}, ${row.areaName}` },
      amount('Gross', (figures) => figures.grossMinor),
      amount('Exempt: resale', (figures) => figures.exemptions.resale),
      amount('Exempt: own use', (figures) => figures.exemptions.exempt_use),
      amount('Non-taxable', (figures) => figures.nonTaxableMinor),
      amount('Taxable', (figures) => figures.taxableMinor),
      ...components.map((name) => amount(name, component(name))),
      amount('Tax', (figures) => figures.taxMinor),
    ],
    rows,
    empty: emptyState(
      'No sales in these days',
      'Invoices, credit notes and voids of these days would stand here.',
    ),
  });
}
