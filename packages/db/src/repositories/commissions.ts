import {
  type CommissionRateId,
  type Day,
  type InvoiceId,
  type PersonId,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { commissionRates, people } from '../schema/accounts.ts';
import type { ReportedDays } from './sales-tax-facts.ts';

export type CommissionRateRow = Omit<typeof commissionRates.$inferSelect, 'tenantId'>;
export interface NamedCommissionRate extends CommissionRateRow {
  readonly name: string;
}

/** Whoever writes holds the person's row of the staff (`lockStaffMember`), so that two rates never overlap. */
export async function insertCommissionRate(tx: TenantTransaction, rate: CommissionRateRow): Promise<boolean> {
  const inserted = await tx
    .insert(commissionRates)
    .values({ tenantId: tx.tenantId, ...rate })
    .onConflictDoNothing({ target: [commissionRates.tenantId, commissionRates.id] })
    .returning({ id: commissionRates.id });
  return inserted.length === 1;
}

export async function findCommissionRate(
  tx: TenantTransaction,
  id: CommissionRateId,
): Promise<CommissionRateRow | null> {
  const [row] = await tx
    .select()
    .from(commissionRates)
    .where(and(eq(commissionRates.tenantId, tx.tenantId), eq(commissionRates.id, id)));
  return row ?? null;
}

/** Of everybody, by name and day: a handful for each technician. */
export async function listCommissionRates(tx: TenantTransaction): Promise<readonly NamedCommissionRate[]> {
  return tx
    .select({
      id: commissionRates.id,
      personId: commissionRates.personId,
      name: people.name,
      percent: commissionRates.percent,
      validFrom: commissionRates.validFrom,
      validTo: commissionRates.validTo,
      setBy: commissionRates.setBy,
      setAt: commissionRates.setAt,
    })
    .from(commissionRates)
    .innerJoin(
      people,
      and(eq(people.tenantId, commissionRates.tenantId), eq(people.id, commissionRates.personId)),
    )
    .where(eq(commissionRates.tenantId, tx.tenantId))
    .orderBy(asc(people.name), asc(commissionRates.personId), asc(commissionRates.validFrom));
}

export async function setCommissionRateEnd(
  tx: TenantTransaction,
  id: CommissionRateId,
  validTo: Day,
): Promise<void> {
  await tx
    .update(commissionRates)
    .set({ validTo })
    .where(and(eq(commissionRates.tenantId, tx.tenantId), eq(commissionRates.id, id)));
}

/** What happened to the repair labor of one vehicle on one invoice. */
export interface LaborEventRow {
  readonly kind: 'invoiced' | 'credited' | 'voided';
  readonly on: Day;
  /** The number of the invoice or credit note. */
  readonly document: string;
  readonly invoiceId: InvoiceId;
  readonly workOrderId: WorkOrderId;
  readonly workOrderNumber: bigint;
  readonly vehicle: string;
  readonly technicianId: PersonId;
  /** The day of work, which decides on the rate. */
  readonly workedOn: Day;
  readonly laborMinor: bigint;
  readonly lines: readonly { readonly description: string; readonly laborMinor: bigint }[];
}

interface EventRow extends Record<string, unknown> {
  readonly kind: LaborEventRow['kind'];
  readonly day: Day;
  readonly document: string;
  readonly invoice_id: string;
  readonly work_order_id: string;
  readonly work_order_number: string;
  readonly vehicle: string;
  readonly technician_id: string;
  readonly worked_on: Day;
  readonly labor: string;
  readonly lines: readonly { readonly description: string; readonly labor: string }[];
}

/**
 * The labor events of every invoice that something happened to in the period, in their order, also those before and
 * after it: what a credit takes back depends on what was there. Repairs with their minimum; after-hours is not in it.
 */
export async function listLaborEvents(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
): Promise<readonly LaborEventRow[]> {
  const tenant = sql`${tx.tenantId}::uuid`;
  const days = sql`between ${from}::date and ${to}::date`;
  const labor = sql`sum(l.labor_minor) as labor,
    jsonb_agg(jsonb_build_object('description', l.description, 'labor', l.labor_minor::text) order by l.position) as lines`;
  const rows = await tx.execute<EventRow>(sql`
    with touched as (
      select id from invoices where tenant_id = ${tenant} and kind = 'invoice' and issued_on ${days}
      union select invoice_id from credit_notes where tenant_id = ${tenant} and issued_on ${days}
      union select invoice_id from invoice_voids where tenant_id = ${tenant} and voided_on ${days}),
    billed as (
      select i.id as invoice_id, l.work_order_id, i.issued_on as day, i.number, ${labor}
      from touched t join invoices i on i.tenant_id = ${tenant} and i.id = t.id
      join invoice_lines l on l.tenant_id = i.tenant_id and l.invoice_id = i.id
      where l.kind in ('repair', 'minimum') and l.work_order_id is not null
      group by i.id, l.work_order_id, i.issued_on, i.number),
    events as (
      select 'invoiced' as kind, 0::bigint as place, day, number as document, invoice_id, work_order_id, labor, lines from billed
      union all
      select 'credited', n.sequence, n.issued_on, n.number, n.invoice_id, l.work_order_id, ${labor}
      from touched t join credit_notes n on n.tenant_id = ${tenant} and n.invoice_id = t.id
      join credit_note_lines l on l.tenant_id = n.tenant_id and l.credit_note_id = n.id
      where l.kind in ('repair', 'minimum') and l.work_order_id is not null
      group by n.id, n.sequence, n.issued_on, n.number, n.invoice_id, l.work_order_id
      union all
      select 'voided', 9223372036854775807, v.voided_on, b.number, b.invoice_id, b.work_order_id, 0, '[]'
      from billed b join invoice_voids v on v.tenant_id = ${tenant} and v.invoice_id = b.invoice_id)
    select e.kind, e.day::text, e.document, e.invoice_id, e.work_order_id, w.number::text as work_order_number,
      coalesce(b.vehicle, '') as vehicle, v.technician_id, v.day::text as worked_on, e.labor::text, e.lines
    from events e
    join work_orders w on w.tenant_id = ${tenant} and w.id = e.work_order_id
    join visits v on v.tenant_id = w.tenant_id and v.id = w.visit_id
    left join invoice_work_orders b on b.tenant_id = w.tenant_id and b.invoice_id = e.invoice_id and b.work_order_id = w.id
    order by w.number, e.invoice_id, e.place`);
  return rows.map((row) => ({
    kind: row.kind,
    on: row.day,
    document: row.document,
    invoiceId: toId<InvoiceId>(row.invoice_id),
    workOrderId: toId<WorkOrderId>(row.work_order_id),
    workOrderNumber: BigInt(row.work_order_number),
    vehicle: row.vehicle,
    technicianId: toId<PersonId>(row.technician_id),
    workedOn: row.worked_on,
    laborMinor: BigInt(row.labor),
    lines: row.lines.map(({ description, labor }) => ({ description, laborMinor: BigInt(labor) })),
  }));
}
