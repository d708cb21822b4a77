import { formatMinor, type SalesTaxReport, type TaxFigures } from '@grainwright/domain';
import { csv } from './csv.ts';

/**
 * The sales-tax report as CSV with columns that stay: for each month and area a row of invoices, of credit notes, of
 * voids and of what remains, and one for each component of the tax.
 */
export function salesTaxCsv({ rows, currency }: SalesTaxReport & { readonly currency: string }): string {
  return csv(
    columns,
    rows.flatMap((row) =>
      parts.flatMap(([name, of]) => {
        const figures = of(row);
        const place = [row.month, row.areaCode, row.areaName, name] as const;
        return [
          [...place, ...amounts(figures, currency), amount(figures.taxMinor, currency), '', '', currency],
          ...figures.taxes.map((tax) => [
            ...place,
            ...amounts(null, currency),
            '',
            tax.component,
            amount(tax.amountMinor, currency),
            currency,
          ]),
        ];
      }),
    ),
  );
}

const columns = [
  'month',
  'area',
  'area_name',
  'documents',
  'gross',
  'exempt_resale',
  'exempt_use',
  'non_taxable',
  'taxable',
  'tax',
  'component',
  'component_tax',
  'currency',
] as const;

type Row = SalesTaxReport['rows'][number];

const parts = [
  ['invoices', (row: Row) => row.invoices],
  ['credit_notes', (row: Row) => row.creditNotes],
  ['voids', (row: Row) => row.voids],
  ['net', (row: Row) => row.net],
] as const;

/** A component’s row leaves empty what stands in the row before it, so that sums of a column count once. */
function amounts(figures: TaxFigures | null, currency: string) {
  if (figures === null) return ['', '', '', '', ''];
  return [
    figures.grossMinor,
    figures.exemptions.resale,
    figures.exemptions.exempt_use,
    figures.nonTaxableMinor,
    figures.taxableMinor,
  ].map((minor) => amount(minor, currency));
}

function amount(minor: bigint, currency: string) {
  return { figure: formatMinor(minor, currency) };
}
