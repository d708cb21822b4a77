import type { AccountId, Day, VisitId, WorkOrderId } from '@grainwright/domain';
import {
  and,
  asc,
  countDistinct,
  eq,
  gt,
  inArray,
  isNotNull,
  isNull,
  lte,
  notExists,
  or,
  type SQL,
  sql,
} from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, sites } from '../schema/accounts.ts';
import { invoiceLines, invoiceVoids } from '../schema/billing.ts';
import { decisions, vehicles, visits, workOrders } from '../schema/work-orders.ts';

type AccountColumns = typeof accounts.$inferSelect;

/** Accepted work that no invoice holds yet, or a vehicle that was not there and whose fee is not charged yet. */
export interface WorkToInvoice {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly accountShortName: string;
  readonly invoiceRule: AccountColumns['invoiceRule'];
  readonly siteName: string;
  readonly visitId: VisitId;
  readonly day: Day;
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly requiresRo: boolean;
  readonly requiresPo: boolean;
  readonly ownNumberKind: AccountColumns['ownNumberKind'];
  readonly ownNumberRequired: boolean;
  readonly vehicle: typeof vehicles.$inferSelect;
  /** Null where it is only a fee. */
  readonly repairsMinor: bigint | null;
  /** Null where there was a vehicle to repair. */
  readonly feeMinor: bigint | null;
}

export interface WorkToInvoiceFilter {
  /** Null: of every account. */
  readonly accountIds: readonly AccountId[] | null;
  /** Only of this visit; nothing: of any. */
  readonly visitId?: VisitId;
  /** Only work up to this day. */
  readonly through: Day;
  /** Only accounts that come after this one in the list; null: from the start. */
  readonly after: AccountId | null;
  readonly limit: number;
}

/** By account, then by visit, the earliest first, as written. Rework without charge is left out. */
export async function listWorkToInvoice(
  tx: TenantTransaction,
  filter: WorkToInvoiceFilter,
): Promise<readonly WorkToInvoice[]> {
  const { accountIds, visitId, through, after, limit } = filter;
  const rows = await tx
    .select({ ...columns, state: workOrders.state })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(sites, and(eq(sites.tenantId, visits.tenantId), eq(sites.id, visits.siteId)))
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .leftJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .where(
      and(
        toBill(tx),
        accountIds === null ? undefined : inArray(workOrders.accountId, [...accountIds]),
        visitId === undefined ? undefined : eq(workOrders.visitId, visitId),
        lte(visits.day, through),
        after === null ? undefined : comesAfter(tx, after),
      ),
    )
    .orderBy(asc(accounts.name), asc(accounts.id), asc(visits.day), asc(visits.id), asc(workOrders.number))
    .limit(limit);
  return rows.map(({ state, ...row }) =>
    state === 'void' ? { ...row, repairsMinor: null } : { ...row, feeMinor: null },
  );
}

const columns = {
  id: workOrders.id,
  number: workOrders.number,
  accountId: workOrders.accountId,
  accountName: accounts.name,
  accountShortName: accounts.shortName,
  invoiceRule: accounts.invoiceRule,
  siteName: sites.name,
  visitId: workOrders.visitId,
  day: visits.day,
  ownNumber: workOrders.ownNumber,
  roNumber: workOrders.roNumber,
  poNumber: workOrders.poNumber,
  requiresRo: accounts.requiresRo,
  requiresPo: accounts.requiresPo,
  ownNumberKind: accounts.ownNumberKind,
  ownNumberRequired: accounts.ownNumberRequired,
  vehicle: vehicles,
  repairsMinor: decisions.repairsMinor,
  feeMinor: workOrders.noShowFeeMinor,
};

/** The accounts that have something to invoice. */
export async function listAccountsToInvoice(
  tx: TenantTransaction,
  through: Day,
): Promise<readonly AccountId[]> {
  const rows = await tx
    .selectDistinct({ accountId: workOrders.accountId })
    .from(workOrders)
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(and(toBill(tx), lte(visits.day, through)));
  return rows.map((row) => row.accountId);
}

/** How many vehicles of each visit are still on their way to being accepted, declined or void. */
export async function countOnTheirWay(
  tx: TenantTransaction,
  visitIds: readonly VisitId[],
): Promise<readonly { readonly visitId: VisitId; readonly vehicles: number }[]> {
  if (visitIds.length === 0) return [];
  return tx
    .select({ visitId: workOrders.visitId, vehicles: countDistinct(workOrders.id) })
    .from(workOrders)
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.visitId, [...visitIds]),
        inArray(workOrders.state, ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done']),
      ),
    )
    .groupBy(workOrders.visitId);
}

/** The numbers of invoices that carry the same RO for another work order, for each of these that has such. */
export async function listInvoicesOfSameRo(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly { readonly workOrderId: WorkOrderId; readonly invoiceNumber: string }[]> {
  if (workOrderIds.length === 0) return [];
  const rows = await tx.execute<{ work_order_id: WorkOrderId; number: string }>(sql`
    select distinct w.id as work_order_id, i.number
    from work_orders w
    join work_orders other on other.tenant_id = w.tenant_id and other.account_id = w.account_id
      and other.ro_number = w.ro_number and other.ro_number <> '' and other.id <> w.id
    join billed_work_orders b on b.tenant_id = other.tenant_id and b.work_order_id = other.id
    join invoices i on i.tenant_id = b.tenant_id and i.id = b.invoice_id
    where w.tenant_id = ${tx.tenantId}::uuid and ${inArray(sql`w.id`, [...workOrderIds])}
    order by i.number`);
  return rows.map((row) => ({ workOrderId: row.work_order_id, invoiceNumber: row.number }));
}

function toBill(tx: TenantTransaction): SQL | undefined {
  const charged = tx
    .select({ one: sql`1` })
    .from(invoiceLines)
    .leftJoin(
      invoiceVoids,
      and(
        eq(invoiceVoids.tenantId, invoiceLines.tenantId),
        eq(invoiceVoids.invoiceId, invoiceLines.invoiceId),
      ),
    )
    .where(
      and(
        eq(invoiceLines.tenantId, tx.tenantId),
        eq(invoiceLines.workOrderId, workOrders.id),
        eq(invoiceLines.kind, 'fee'),
        isNull(invoiceVoids.invoiceId),
      ),
    );
  return and(
    eq(workOrders.tenantId, tx.tenantId),
    or(
      and(eq(workOrders.state, 'accepted'), isNull(workOrders.reworkOfId)),
      and(eq(workOrders.state, 'void'), isNotNull(workOrders.noShowFeeMinor), notExists(charged)),
    ),
  );
}

function comesAfter(tx: TenantTransaction, id: AccountId): SQL {
  return gt(
    sql`(${accounts.name}, ${accounts.id})`,
    sql`(select a.name, a.id from accounts a where a.tenant_id = ${tx.tenantId} and a.id = ${id})`,
  );
}
