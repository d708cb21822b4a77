import {
  type LaborEventRow,
  listCommissionRates,
  listLaborEvents,
  listStaffRows,
  type NamedCommissionRate,
} from '@grainwright/db';
import { commissionsCsv } from '@grainwright/documents';
import {
  type CommissionMovement,
  commissionMovements,
  contains,
  type Day,
  type Decimal,
  decimal,
  ok,
  type PersonId,
  type Result,
  sumMinor,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { ExportedFile } from '../statements/export-statement.ts';
import { type ReportDaysInput, readReportDays } from './read-report-days.ts';

/** What an invoice, a credit note or a void moved of a technician's commission on one vehicle. */
export interface CommissionEntry extends Omit<LaborEventRow, 'laborMinor'> {
  readonly technician: string;
  /** Null where no rate was set for the day of work: then nothing is earned. */
  readonly percent: Decimal | null;
  /** Of repairs with their minimum; below zero where it was taken back. */
  readonly laborMinor: bigint;
  readonly commissionMinor: bigint;
}

export interface TechnicianCommission {
  readonly personId: PersonId;
  readonly name: string;
  /** Of what was invoiced, before credits and voids. */
  readonly laborMinor: bigint;
  readonly beforeCreditsMinor: bigint;
  /** Zero or below: what credits and voids took back. */
  readonly creditsMinor: bigint;
  readonly afterCreditsMinor: bigint;
  /** Vehicles on invoices for whose day of work no rate was set. */
  readonly withoutRate: number;
}

/** Commissions by the day of the document. Amounts are minor units of `currency`. */
export interface CommissionsView {
  readonly from: Day;
  readonly to: Day;
  readonly currency: string;
  readonly technicians: readonly TechnicianCommission[];
  /** By technician, then work order. */
  readonly entries: readonly CommissionEntry[];
}

/**
 * Each technician's share of the labor of repairs, rounded per vehicle: earned with the invoice, taken back by
 * difference with a credit note or void. A rework is not invoiced, and so not paid.
 */
export function readCommissions(
  services: Services,
  actor: Actor,
  input: ReportDaysInput,
): Promise<Result<CommissionsView>> {
  return performAsStaff(services, actor, 'see_ledger', async ({ tx, business }) => {
    const days = readReportDays(input);
    if (!days.ok) return days;
    const { from, to } = days.value;
    const rates = await listCommissionRates(tx);
    const names = new Map((await listStaffRows(tx, staffMax)).map((each) => [each.personId, each.name]));
    const byVehicle = Map.groupBy(
      await listLaborEvents(tx, days.value),
      (event) => `${event.invoiceId} ${event.workOrderId}`,
    );
    const entries = [...byVehicle.values()]
      .flatMap((events) => entriesOf(events, rates, names))
      .filter((entry) => contains({ from, to }, entry.on))
      .toSorted((a, b) => a.technician.localeCompare(b.technician, 'en'));
    const byTechnician = Map.groupBy(entries, (entry) => entry.technicianId);
    const technicians = [...byTechnician].map(([personId, own]) => totalOf(personId, own));
    return ok({ from, to, currency: business.currency, technicians, entries });
  });
}

const staffMax = 1000;

function entriesOf(
  events: readonly LaborEventRow[],
  rates: readonly NamedCommissionRate[],
  names: ReadonlyMap<PersonId, string>,
): readonly CommissionEntry[] {
  const [first] = events;
  if (first === undefined) return [];
  const percent =
    rates.find(
      (rate) =>
        rate.personId === first.technicianId &&
        contains({ from: rate.validFrom, to: rate.validTo }, first.workedOn),
    )?.percent ?? null;
  const technician = names.get(first.technicianId) ?? '';
  return commissionMovements(events, percent ?? decimal('0')).map(
    ({ event, laborMinor, commissionMinor }: CommissionMovement<LaborEventRow>) => ({
      ...event,
      technician,
      percent,
      laborMinor,
      commissionMinor,
    }),
  );
}

function totalOf(personId: PersonId, entries: readonly CommissionEntry[]): TechnicianCommission {
  const invoiced = entries.filter((entry) => entry.kind === 'invoiced');
  const takenBack = entries.filter((entry) => entry.kind !== 'invoiced');
  const beforeCreditsMinor = sumMinor(invoiced.map((entry) => entry.commissionMinor));
  const creditsMinor = sumMinor(takenBack.map((entry) => entry.commissionMinor));
  return {
    personId,
    name: entries[0]?.technician ?? '',
    laborMinor: sumMinor(invoiced.map((entry) => entry.laborMinor)),
    beforeCreditsMinor,
    creditsMinor,
    afterCreditsMinor: beforeCreditsMinor + creditsMinor,
    withoutRate: invoiced.filter((entry) => entry.percent === null).length,
  };
}

/** One row a vehicle and document. */
export async function exportCommissions(
  services: Services,
  actor: Actor,
  input: ReportDaysInput,
): Promise<Result<ExportedFile>> {
  const read = await readCommissions(services, actor, input);
  if (!read.ok) return read;
  return ok({
    fileName: `commissions-${read.value.from}-${read.value.to}.csv`,
    mediaType: 'text/csv; charset=utf-8; header=present',
    text: commissionsCsv(read.value),
  });
}
