import type { AccountId, Day, InvoiceId, PurchaseOrderId, WorkOrderId } from '@grainwright/domain';
import { and, asc, desc, eq, inArray, ne, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { purchaseOrders } from '../schema/accounts.ts';
import { invoices, invoiceWorkOrders } from '../schema/billing.ts';
import { workOrders } from '../schema/work-orders.ts';

export type PurchaseOrderRow = typeof purchaseOrders.$inferSelect;

export interface PurchaseOrderUse extends PurchaseOrderRow {
  /** With tax, less credits: of an invoice that carries several numbers the share of this one, by its repairs. */
  readonly invoicedMinor: bigint;
}

/** False when the id or the number is taken. */
export async function insertPurchaseOrder(
  tx: TenantTransaction,
  order: Omit<PurchaseOrderRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(purchaseOrders)
    .values({ tenantId: tx.tenantId, ...order })
    .onConflictDoNothing()
    .returning({ id: purchaseOrders.id });
  return rows.length === 1;
}

/** Locked until the transaction ends. */
export async function lockPurchaseOrder(
  tx: TenantTransaction,
  id: PurchaseOrderId,
): Promise<PurchaseOrderRow | null> {
  const [row] = await tx
    .select()
    .from(purchaseOrders)
    .where(and(eq(purchaseOrders.tenantId, tx.tenantId), eq(purchaseOrders.id, id)))
    .for('update');
  return row ?? null;
}

export async function updatePurchaseOrder(
  tx: TenantTransaction,
  id: PurchaseOrderId,
  change: Pick<PurchaseOrderRow, 'capMinor' | 'validTo' | 'note'>,
): Promise<void> {
  await tx
    .update(purchaseOrders)
    .set(change)
    .where(and(eq(purchaseOrders.tenantId, tx.tenantId), eq(purchaseOrders.id, id)));
}

/** The account's purchase order of a number, and what was invoiced on it; null where none is known. */
export async function findPurchaseOrder(
  tx: TenantTransaction,
  accountId: AccountId,
  number: string,
): Promise<PurchaseOrderUse | null> {
  const [row] = await tx
    .select({ order: purchaseOrders, invoiced })
    .from(purchaseOrders)
    .where(ofAccount(tx, accountId, eq(purchaseOrders.number, number)));
  return row === undefined ? null : { ...row.order, invoicedMinor: BigInt(row.invoiced) };
}

/** The account's purchase orders, the newest first; three hundred at most. */
export async function listPurchaseOrderRows(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly PurchaseOrderUse[]> {
  const rows = await tx
    .select({ order: purchaseOrders, invoiced })
    .from(purchaseOrders)
    .where(ofAccount(tx, accountId))
    .orderBy(desc(purchaseOrders.validFrom), asc(purchaseOrders.number))
    .limit(300);
  return rows.map(({ order, invoiced }) => ({ ...order, invoicedMinor: BigInt(invoiced) }));
}

/**
 * Locks the account's purchase orders of these numbers until the transaction ends, in the order of their ids, so that
 * two invoices at once don't both find room on one.
 */
export async function lockPurchaseOrdersOf(
  tx: TenantTransaction,
  accountId: AccountId,
  numbers: readonly string[],
): Promise<void> {
  await tx
    .select({ id: purchaseOrders.id })
    .from(purchaseOrders)
    .where(ofAccount(tx, accountId, inArray(purchaseOrders.number, [...numbers])))
    .orderBy(asc(purchaseOrders.id))
    .for('update');
}

export interface InvoiceWithRo {
  readonly invoiceId: InvoiceId;
  readonly number: string;
  readonly issuedOn: Day;
  readonly workOrderId: WorkOrderId;
  readonly workOrderNumber: bigint;
}

/** Invoices of the account that carry this repair order for another work order, the newest first; ten at most. */
export async function earlierInvoicesWithRo(
  tx: TenantTransaction,
  of: { readonly accountId: AccountId; readonly roNumber: string; readonly workOrderId: WorkOrderId },
): Promise<readonly InvoiceWithRo[]> {
  if (of.roNumber === '') return [];
  return tx
    .select({
      invoiceId: invoices.id,
      number: invoices.number,
      issuedOn: invoices.issuedOn,
      workOrderId: workOrders.id,
      workOrderNumber: workOrders.number,
    })
    .from(workOrders)
    .innerJoin(
      invoiceWorkOrders,
      and(
        eq(invoiceWorkOrders.tenantId, workOrders.tenantId),
        eq(invoiceWorkOrders.workOrderId, workOrders.id),
      ),
    )
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceWorkOrders.tenantId), eq(invoices.id, invoiceWorkOrders.invoiceId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.accountId, of.accountId),
        eq(workOrders.roNumber, of.roNumber),
        ne(workOrders.id, of.workOrderId),
        sql`not exists (select from invoice_voids x
          where x.tenant_id = ${invoices.tenantId} and x.invoice_id = ${invoices.id})`,
      ),
    )
    .orderBy(desc(invoices.sequence))
    .limit(10);
}

function ofAccount(tx: TenantTransaction, accountId: AccountId, also?: SQL): SQL | undefined {
  return and(eq(purchaseOrders.tenantId, tx.tenantId), eq(purchaseOrders.accountId, accountId), also);
}

/**
 * Rounded up where an invoice is shared between numbers, so that shares never hide a cent. Names are written out: in the
 * select list of one table the query builder leaves the table's name away, and inside they would be another's.
 */
const invoiced = sql<string>`(
  select coalesce(sum(ceil((i.total_minor - coalesce(c.credited, 0)) * part.own / part.whole)), 0)
  from (
    select v.invoice_id, coalesce(nullif(sum(v.subtotal_minor), 0), count(*))::numeric as whole,
      case when sum(v.subtotal_minor) = 0 then count(*) filter (where w.po_number = purchase_orders.number)
        else coalesce(sum(v.subtotal_minor) filter (where w.po_number = purchase_orders.number), 0) end as own
    from invoice_work_orders v
    join work_orders w on w.tenant_id = v.tenant_id and w.id = v.work_order_id
    where v.tenant_id = purchase_orders.tenant_id and v.invoice_id in (
      select carrying.invoice_id from invoice_work_orders carrying
      join work_orders o on o.tenant_id = carrying.tenant_id and o.id = carrying.work_order_id
      where o.tenant_id = purchase_orders.tenant_id and o.account_id = purchase_orders.account_id
        and o.po_number = purchase_orders.number)
    group by v.invoice_id
  ) part
  join invoices i on i.tenant_id = purchase_orders.tenant_id and i.id = part.invoice_id
  left join lateral (
    select sum(n.total_minor) as credited from credit_notes n
    where n.tenant_id = i.tenant_id and n.invoice_id = i.id
  ) c on true
  where not exists (select from invoice_voids x where x.tenant_id = i.tenant_id and x.invoice_id = i.id))`;
