import { salesTaxCsv } from '@grainwright/documents';
import { type Day, ok, type Result, type SalesTaxReport, sumMinor } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { ExportedFile } from '../statements/export-statement.ts';
import { type ReportDaysInput, readReportDays } from './read-report-days.ts';
import { salesTaxOf } from './sales-tax-of.ts';

/** Sales tax by area and month on the accrual basis. Amounts are minor units of `currency`. */
export interface SalesTaxView extends SalesTaxReport {
  readonly from: Day;
  readonly to: Day;
  readonly currency: string;
  /** What the ledger’s tax payable moved in the same days; the report's `total.payableMinor` when it ties out. */
  readonly ledgerMinor: bigint;
}

/** Gross = exempt + non-taxable + taxable, always: it throws otherwise. */
export function readSalesTax(
  services: Services,
  actor: Actor,
  input: ReportDaysInput,
): Promise<Result<SalesTaxView>> {
  return performAsStaff(services, actor, 'see_ledger', async (scope) => {
    const days = readReportDays(input);
    if (!days.ok) return days;
    const { report, payable } = await salesTaxOf(scope, days.value);
    return ok({
      ...report,
      ...days.value,
      currency: scope.business.currency,
      ledgerMinor: sumMinor(payable.map((each) => each.amountMinor)),
    });
  });
}

export async function exportSalesTax(
  services: Services,
  actor: Actor,
  input: ReportDaysInput,
): Promise<Result<ExportedFile>> {
  const read = await readSalesTax(services, actor, input);
  if (!read.ok) return read;
  return ok({
    fileName: `sales-tax-${read.value.from}-${read.value.to}.csv`,
    mediaType: 'text/csv; charset=utf-8; header=present',
    text: salesTaxCsv(read.value),
  });
}
