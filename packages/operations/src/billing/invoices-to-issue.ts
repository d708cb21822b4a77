import {
  countOnTheirWay,
  listInvoicesOfSameRo,
  listWorkToInvoice,
  type WorkToInvoice,
  type WorkToInvoiceFilter,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  type DemandedNumber,
  demandedNumbers,
  lastDay,
  type Month,
  missingNumbers,
  monthOf,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { documentNumbers, documentVehicle } from './billable-words.ts';

/** A work order that an invoice is to hold. Amounts are minor units. */
export interface WorkToBill {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly visitId: VisitId;
  readonly siteName: string;
  readonly day: Day;
  readonly vehicle: string;
  readonly numbers: string;
  /** The numbers that the account demands on the invoice and has not given. */
  readonly missing: readonly DemandedNumber[];
  /** Null for a vehicle that was not there. */
  readonly repairsMinor: bigint | null;
  /** The fee for a vehicle that was not there; null for one that was repaired. */
  readonly feeMinor: bigint | null;
  /** Invoices that carry the same RO number already. */
  readonly roInvoicedOn: readonly string[];
}

/** What makes one invoice by the account's rule: a visit, or for monthly accounts a month. */
export interface InvoiceToIssue {
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly invoiceRule: WorkToInvoice['invoiceRule'];
  /** Null where the account is not invoiced by the month. */
  readonly month: Month | null;
  readonly currency: string;
  readonly workOrders: readonly WorkToBill[];
  /** What it waits for, the first that applies; null: nothing, it can be issued. */
  readonly waits: WaitForInvoice | null;
}

export type WaitForInvoice =
  /** Vehicles of the visit that are not accepted, declined or void yet. */
  | { readonly for: 'vehicles'; readonly count: number }
  | { readonly for: 'numbers'; readonly missing: readonly DemandedNumber[] }
  /** The month is not over. */
  | { readonly for: 'month_end'; readonly lastDay: Day };

/**
 * What waits for an invoice, as invoices by the accounts' rules: by account, the earliest work first. Of a month, work
 * whose numbers are missing is an entry of its own, so that it holds up nobody else's.
 */
export async function invoicesToIssue(
  scope: Scope,
  filter: WorkToInvoiceFilter,
): Promise<readonly InvoiceToIssue[]> {
  const rows = await listWorkToInvoice(scope.tx, filter);
  const visitIds = [...new Set(rows.map((row) => row.visitId))];
  const onTheirWay = new Map(
    (await countOnTheirWay(scope.tx, visitIds)).map((each) => [each.visitId, each.vehicles]),
  );
  const sameRo = await listInvoicesOfSameRo(
    scope.tx,
    rows.map((row) => row.id),
  );
  const groups = Map.groupBy(rows, groupOf);
  return [...groups.values()].flatMap((group) =>
    invoiceOf(group, {
      currency: scope.business.currency,
      through: filter.through,
      onTheirWay,
      sameRo,
    }),
  );
}

interface GroupFacts {
  readonly currency: string;
  readonly through: Day;
  readonly onTheirWay: ReadonlyMap<VisitId, number>;
  readonly sameRo: Awaited<ReturnType<typeof listInvoicesOfSameRo>>;
}

function groupOf(row: WorkToInvoice): string {
  if (row.invoiceRule !== 'monthly') return row.visitId;
  const complete = missingOf(row).length === 0 ? 'complete' : 'missing';
  return `${row.accountId} ${monthOf(row.day)} ${complete}`;
}

function invoiceOf(rows: readonly WorkToInvoice[], facts: GroupFacts): readonly InvoiceToIssue[] {
  const [first] = rows;
  if (first === undefined) return [];
  const { accountId, accountName, invoiceRule } = first;
  const month = invoiceRule === 'monthly' ? monthOf(first.day) : null;
  return [
    {
      accountId,
      accountName,
      invoiceRule,
      month,
      currency: facts.currency,
      workOrders: rows.map((row) => workToBill(row, facts)),
      waits: waitOf(rows, month, facts),
    },
  ];
}

function waitOf(
  rows: readonly WorkToInvoice[],
  month: Month | null,
  { through, onTheirWay }: GroupFacts,
): WaitForInvoice | null {
  const count = month === null ? Math.max(0, ...rows.map((row) => onTheirWay.get(row.visitId) ?? 0)) : 0;
  if (count > 0) return { for: 'vehicles', count };
  const missing = [...new Set(rows.flatMap(missingOf))];
  if (missing.length > 0) return { for: 'numbers', missing };
  if (month !== null && lastDay(month) > through) return { for: 'month_end', lastDay: lastDay(month) };
  return null;
}

/** A vehicle that was not there needs no numbers: nothing was repaired on an order of the account. */
function missingOf(row: WorkToInvoice): readonly DemandedNumber[] {
  return row.feeMinor === null ? missingNumbers(demandedNumbers(row, row)) : [];
}

function workToBill(row: WorkToInvoice, { sameRo }: GroupFacts): WorkToBill {
  return {
    id: row.id,
    number: row.number,
    visitId: row.visitId,
    siteName: row.siteName,
    day: row.day,
    vehicle: documentVehicle(row.vehicle),
    numbers: documentNumbers(row, row),
    missing: missingOf(row),
    repairsMinor: row.repairsMinor,
    feeMinor: row.feeMinor,
    roInvoicedOn: sameRo.filter((each) => each.workOrderId === row.id).map((each) => each.invoiceNumber),
  };
}
