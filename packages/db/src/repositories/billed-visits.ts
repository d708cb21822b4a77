import type { InvoiceId, VisitId, WorkOrderId } from '@grainwright/domain';
import { and, asc, eq, inArray, isNull, max, ne, notInArray, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { sites } from '../schema/accounts.ts';
import { invoiceLines, invoices, invoiceVisits } from '../schema/billing.ts';
import { decisions, visits, workOrderSteps, workOrders } from '../schema/work-orders.ts';
import type { VisitRow } from './visits.ts';
import { stillStands } from './voids.ts';

export interface VisitWithPlace extends VisitRow {
  readonly siteName: string;
}

/** In the order of their days. */
export async function listVisitsWithPlace(
  tx: TenantTransaction,
  ids: readonly VisitId[],
): Promise<readonly VisitWithPlace[]> {
  const rows = await tx
    .select({ visit: visits, siteName: sites.name })
    .from(visits)
    .innerJoin(sites, and(eq(sites.tenantId, visits.tenantId), eq(sites.id, visits.siteId)))
    .where(and(eq(visits.tenantId, tx.tenantId), inArray(visits.id, [...ids])))
    .orderBy(asc(visits.day), asc(visits.id));
  return rows.map(({ visit, siteName }) => ({ ...visit, siteName }));
}

export interface BilledOfVisit {
  readonly visitId: VisitId;
  /** With minimums. */
  readonly repairsMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
  /** Whether one of them lifted the visit to its minimum. */
  readonly minimumCharged: boolean;
  readonly tripCharged: boolean;
}

/** What earlier invoices hold of each visit, void ones left out; a visit that none holds is not there. */
export async function listBilledOfVisits(
  tx: TenantTransaction,
  ids: readonly VisitId[],
): Promise<readonly BilledOfVisit[]> {
  const sumOf = (kinds: SQL) =>
    sql<string>`coalesce(sum(${invoiceLines.netMinor}) filter (where ${invoiceLines.kind} in ${kinds}), 0)`;
  const rows = await tx
    .select({
      visitId: invoiceVisits.visitId,
      repairsMinor: sumOf(sql`('repair', 'minimum')`),
      afterHoursMinor: sumOf(sql`('after_hours')`),
      rushMinor: sumOf(sql`('rush')`),
      minimumCharged: sql<boolean>`coalesce(bool_or(${invoiceLines.kind} = 'visit_minimum'), false)`,
      tripCharged: sql<boolean>`coalesce(bool_or(${invoiceLines.kind} = 'trip'), false)`,
    })
    .from(invoiceVisits)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceVisits.tenantId), eq(invoices.id, invoiceVisits.invoiceId)),
    )
    .innerJoin(
      invoiceLines,
      and(
        eq(invoiceLines.tenantId, invoiceVisits.tenantId),
        eq(invoiceLines.invoiceId, invoiceVisits.invoiceId),
        or(isNull(invoiceLines.visitId), eq(invoiceLines.visitId, invoiceVisits.visitId)),
      ),
    )
    .where(
      and(eq(invoiceVisits.tenantId, tx.tenantId), inArray(invoiceVisits.visitId, [...ids]), stillStands),
    )
    .groupBy(invoiceVisits.visitId);
  return rows.map((row) => ({
    ...row,
    repairsMinor: BigInt(row.repairsMinor),
    afterHoursMinor: BigInt(row.afterHoursMinor),
    rushMinor: BigInt(row.rushMinor),
  }));
}

/** Repairs of each visit, with minimums, that are approved and on no invoice yet, but for these work orders. */
export async function listApprovedUnbilled(
  tx: TenantTransaction,
  ids: readonly VisitId[],
  but: readonly WorkOrderId[],
): Promise<readonly { readonly visitId: VisitId; readonly repairsMinor: bigint }[]> {
  const rows = await tx
    .select({ visitId: workOrders.visitId, repairsMinor: sql<string>`sum(${decisions.repairsMinor})` })
    .from(workOrders)
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.visitId, [...ids]),
        inArray(workOrders.state, ['approved', 'in_work', 'done', 'accepted']),
        but.length === 0 ? undefined : notInArray(workOrders.id, [...but]),
      ),
    )
    .groupBy(workOrders.visitId);
  return rows.map((row) => ({ ...row, repairsMinor: BigInt(row.repairsMinor) }));
}

/** The invoice that charges for each of these vehicles that were not there, where one that stands does. */
export async function listFeesCharged(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly { workOrderId: WorkOrderId; invoiceId: InvoiceId; number: string }[]> {
  if (workOrderIds.length === 0) return [];
  const rows = await tx
    .select({ workOrderId: invoiceLines.workOrderId, invoiceId: invoices.id, number: invoices.number })
    .from(invoiceLines)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceLines.tenantId), eq(invoices.id, invoiceLines.invoiceId)),
    )
    .where(
      and(
        eq(invoiceLines.tenantId, tx.tenantId),
        eq(invoiceLines.kind, 'fee'),
        inArray(invoiceLines.workOrderId, [...workOrderIds]),
        stillStands,
      ),
    );
  return rows.flatMap(({ workOrderId, ...invoice }) =>
    workOrderId === null ? [] : { workOrderId, ...invoice },
  );
}

/** The latest moment at which one of these work orders was accepted or let go; null where none was. */
export async function findLastAcceptedAt(tx: TenantTransaction, workOrderIds: readonly WorkOrderId[]) {
  const [row] = await tx
    .select({ at: max(workOrderSteps.happenedAt) })
    .from(workOrderSteps)
    .where(
      and(
        eq(workOrderSteps.tenantId, tx.tenantId),
        inArray(workOrderSteps.workOrderId, [...workOrderIds]),
        eq(workOrderSteps.toState, 'accepted'),
        ne(workOrderSteps.event, 'invoice_voided'),
      ),
    );
  return row?.at ?? null;
}
