import { type Day, type Decimal, formatDecimal, formatMinor } from '@grainwright/domain';
import { csv } from './csv.ts';

/** What the table of commissions needs. Amounts are minor units of `currency`. */
export interface CommissionsTable {
  readonly currency: string;
  readonly entries: readonly {
    readonly technician: string;
    readonly workOrderNumber: bigint;
    readonly vehicle: string;
    readonly workedOn: Day;
    readonly kind: 'invoiced' | 'credited' | 'voided';
    readonly document: string;
    readonly on: Day;
    readonly laborMinor: bigint;
    readonly percent: Decimal | null;
    readonly commissionMinor: bigint;
  }[];
}

/** Commissions as CSV with columns that stay: one row for each vehicle and document. */
export function commissionsCsv({ currency, entries }: CommissionsTable): string {
  return csv(
    columns,
    entries.map((entry) => [
      entry.technician,
      `WO-${entry.workOrderNumber}`,
      entry.vehicle,
      entry.workedOn,
      entry.kind,
      entry.document,
      entry.on,
      { figure: formatMinor(entry.laborMinor, currency) },
      entry.percent === null ? '' : { figure: formatDecimal(entry.percent) },
      { figure: formatMinor(entry.commissionMinor, currency) },
      currency,
    ]),
  );
}

const columns = [
  'technician',
  'work_order',
  'vehicle',
  'worked_on',
  'event',
  'document',
  'date',
  'labor',
  'percent',
  'commission',
  'currency',
] as const;
