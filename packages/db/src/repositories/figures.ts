import { type Day, type PersonId, toId } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { quotedMinor } from './replacement-quotes.ts';
import type { ReportedDays } from './sales-tax-facts.ts';

/** Of the work orders invoiced in the period, how many came back. */
export interface ComebackRow {
  readonly technicianId: PersonId;
  readonly name: string;
  readonly billed: number;
  readonly cameBack: number;
}

/** By technician. A rework counts when it was done within so many days of the first work; voids count for nothing. */
export async function countComebacks(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
  daysMax: number,
): Promise<readonly ComebackRow[]> {
  const tenant = sql`${tx.tenantId}::uuid`;
  const rows = await tx.execute<{
    technician_id: string;
    name: string;
    billed: number;
    came_back: number;
  }>(sql`
    select v.technician_id, p.name, count(*)::integer as billed, count(*) filter (where exists (
      select from work_orders again join visits later on later.tenant_id = again.tenant_id and later.id = again.visit_id
      where again.tenant_id = w.tenant_id and again.rework_of_id = w.id and again.state <> 'void'
        and later.day between v.day and v.day + ${daysMax}::integer))::integer as came_back
    from invoices i
    join billed_work_orders b on b.tenant_id = i.tenant_id and b.invoice_id = i.id
    join work_orders w on w.tenant_id = b.tenant_id and w.id = b.work_order_id
    join visits v on v.tenant_id = w.tenant_id and v.id = w.visit_id
    join people p on p.tenant_id = v.tenant_id and p.id = v.technician_id
    where i.tenant_id = ${tenant} and i.kind = 'invoice' and i.issued_on between ${from}::date and ${to}::date
      and w.state <> 'void'
    group by v.technician_id, p.name order by p.name, v.technician_id`);
  return rows.map((row) => ({
    technicianId: toId<PersonId>(row.technician_id),
    name: row.name,
    billed: row.billed,
    cameBack: row.came_back,
  }));
}

/** What was declined: lines and their amounts before tax, and work orders declined as a whole. */
export interface DeclinedFigures {
  readonly lines: number;
  readonly wholeOrders: number;
  readonly declinedMinor: bigint;
}

/** By the answers that count now, given in the period by the business's own days. */
export async function sumDeclined(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
  timeZone: string,
): Promise<DeclinedFigures> {
  const [row] = await tx.execute<{ lines: number; whole: number; amount: string }>(sql`
    select count(*)::integer as lines, count(distinct w.id) filter (where w.state = 'declined')::integer as whole,
      coalesce(sum(l.net_minor), 0)::text as amount
    from decisions d
    join work_orders w on w.tenant_id = d.tenant_id and w.decision_id = d.id and w.state <> 'void'
    join decision_lines l on l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'declined'
    where d.tenant_id = ${tx.tenantId}::uuid
      and d.decided_at >= (${from}::date)::timestamp at time zone ${timeZone}
      and d.decided_at < (${to}::date + 1)::timestamp at time zone ${timeZone}`);
  if (row === undefined) throw new Error('a sum gave no row');
  return { lines: row.lines, wholeOrders: row.whole, declinedMinor: BigInt(row.amount) };
}

/** Vehicles invoiced in the period for which a new part was quoted: the quotes, and what is left of the repairs. */
export interface SavingsFigures {
  readonly vehicles: number;
  /** Of those, how many cost less than the part. */
  readonly cheaper: number;
  readonly quotedMinor: bigint;
  readonly repairsMinor: bigint;
}

/** Before tax, after credits; what only has a usual price for a new part is not in it. */
export async function sumSavings(tx: TenantTransaction, { from, to }: ReportedDays): Promise<SavingsFigures> {
  const tenant = sql`${tx.tenantId}::uuid`;
  const quoted = quotedMinor({ tenantId: sql`w.tenant_id`, id: sql`w.id`, decisionId: sql`w.decision_id` });
  const [row] = await tx.execute<{ vehicles: number; cheaper: number; quoted: string; repairs: string }>(sql`
    with repaired as (
      select ${quoted} as quoted, o.subtotal_minor - coalesce((
        select sum(l.net_minor) from credit_notes n
        join credit_note_lines l on l.tenant_id = n.tenant_id and l.credit_note_id = n.id
        where n.tenant_id = i.tenant_id and n.invoice_id = i.id and l.work_order_id = w.id
          and l.kind in ('repair', 'minimum')), 0) as repair
      from invoices i
      join billed_work_orders b on b.tenant_id = i.tenant_id and b.invoice_id = i.id
      join invoice_work_orders o on o.tenant_id = b.tenant_id and o.invoice_id = b.invoice_id and o.work_order_id = b.work_order_id
      join work_orders w on w.tenant_id = b.tenant_id and w.id = b.work_order_id
      where i.tenant_id = ${tenant} and i.kind = 'invoice' and i.issued_on between ${from}::date and ${to}::date
        and ${quoted} is not null)
    select count(*)::integer as vehicles, count(*) filter (where repair < quoted)::integer as cheaper,
      coalesce(sum(quoted), 0)::text as quoted, coalesce(sum(repair), 0)::text as repairs from repaired`);
  if (row === undefined) throw new Error('a sum gave no row');
  return {
    vehicles: row.vehicles,
    cheaper: row.cheaper,
    quotedMinor: BigInt(row.quoted),
    repairsMinor: BigInt(row.repairs),
  };
}

/** How long work took from the write-up until it was done. */
export interface Turnaround {
  readonly workOrders: number;
  /** The one in the middle, in minutes; null where none was done. */
  readonly medianMinutes: number | null;
}

/** Of visits in the period. A rework counts like any other work. */
export async function findTurnaround(
  tx: TenantTransaction,
  { from, to }: { readonly from: Day; readonly to: Day },
): Promise<Turnaround> {
  const [row] = await tx.execute<{ count: number; minutes: number | null }>(sql`
    select count(*)::integer as count, round(percentile_disc(0.5) within group (order by
      extract(epoch from done.at - w.written_up_at)) / 60)::integer as minutes
    from work_orders w
    join visits v on v.tenant_id = w.tenant_id and v.id = w.visit_id
    join lateral (
      select min(s.happened_at) as at from work_order_steps s
      where s.tenant_id = w.tenant_id and s.work_order_id = w.id and s.to_state = 'done') done on done.at is not null
    where w.tenant_id = ${tx.tenantId}::uuid and w.state <> 'void' and v.day between ${from}::date and ${to}::date`);
  return { workOrders: row?.count ?? 0, medianMinutes: row?.minutes ?? null };
}
