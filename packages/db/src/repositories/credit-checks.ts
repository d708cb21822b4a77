import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import type { Mismatch } from './ledger-checks.ts';

type MismatchRow = { readonly what: string; readonly stands: string; readonly should_be: string };

const shownMax = 20;

/** Credit notes whose total, or whose unapplied rest, is not what the ledger's account credit says. */
export async function wrongCreditNoteBalances(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    with posted as (
      select l.credit_note_id, -sum(l.amount_minor) as unapplied,
        -sum(l.amount_minor) filter (where e.event = 'credit_note_issued') as issued
      from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
      where l.tenant_id = ${tx.tenantId}::uuid and l.ledger_account = 'account_credit' and l.credit_note_id is not null
      group by l.credit_note_id)
    select n.number || fault.word as what, fault.stands::text as stands, fault.should_be::text as should_be
    from credit_notes n
    left join credit_note_balances b on b.tenant_id = n.tenant_id and b.credit_note_id = n.id
    left join posted p on p.credit_note_id = n.id
    cross join lateral (values
      (' unapplied', coalesce(b.unapplied_minor, -1), coalesce(p.unapplied, 0)),
      (' total', n.total_minor, coalesce(p.issued, 0))) fault (word, stands, should_be)
    where n.tenant_id = ${tx.tenantId}::uuid and fault.stands <> fault.should_be
    order by n.sequence limit ${shownMax}`);
  return rows.map(asMismatch);
}

/**
 * What was written off (less what was recovered) and taken as a discount of each invoice, against the ledger's
 * receivables of those events.
 */
export async function wrongLetGo(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    with posted as (
      select l.invoice_id, -sum(l.amount_minor) as gone
      from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
      where l.tenant_id = ${tx.tenantId}::uuid and l.ledger_account = 'receivables'
        and e.event in ('written_off', 'write_off_recovered', 'discount_taken')
      group by l.invoice_id),
    kept as (
      select invoice_id, sum(amount) as gone from (
        select w.invoice_id, w.amount_minor as amount from write_offs w
        where w.tenant_id = ${tx.tenantId}::uuid and not exists (select 1 from write_off_recoveries r
          where r.tenant_id = w.tenant_id and r.write_off_id = w.id)
        union all
        select d.invoice_id, d.amount_minor from discounts_taken d where d.tenant_id = ${tx.tenantId}::uuid) each
      group by invoice_id)
    select i.number || ' let go' as what, coalesce(k.gone, 0)::text as stands, coalesce(p.gone, 0)::text as should_be
    from invoices i
    left join posted p on p.invoice_id = i.id
    left join kept k on k.invoice_id = i.id
    where i.tenant_id = ${tx.tenantId}::uuid and coalesce(k.gone, 0) <> coalesce(p.gone, 0)
    order by i.number limit ${shownMax}`);
  return rows.map(asMismatch);
}

/**
 * Credit notes that took off their invoice more than it came to less what was credited, let go and not recovered
 * before them: credit that nobody paid for.
 */
export async function creditOfLetGo(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select n.number || ' credited and let go' as what, gone.amount::text as stands, i.total_minor::text as should_be
    from credit_notes n
    join invoices i on i.tenant_id = n.tenant_id and i.id = n.invoice_id
    cross join lateral (select
      (select sum(m.total_minor) from credit_notes m
        where m.tenant_id = n.tenant_id and m.invoice_id = n.invoice_id and m.sequence <= n.sequence)
      + coalesce((select sum(w.amount_minor) from write_offs w
        left join write_off_recoveries r on r.tenant_id = w.tenant_id and r.write_off_id = w.id
        where w.tenant_id = n.tenant_id and w.invoice_id = n.invoice_id and w.written_off_at < n.issued_at
          and (r.recovered_at is null or r.recovered_at > n.issued_at)), 0)
      + coalesce((select sum(d.amount_minor) from discounts_taken d
        where d.tenant_id = n.tenant_id and d.invoice_id = n.invoice_id and d.taken_at < n.issued_at), 0) as amount) gone
    where n.tenant_id = ${tx.tenantId}::uuid and gone.amount > i.total_minor
    order by n.sequence limit ${shownMax}`);
  return rows.map(asMismatch);
}

/** Void invoices of which something is open or that still hold work, and invoices that stand and have lost theirs. */
export async function wrongVoids(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select i.number || fault.word as what, fault.stands::text as stands, fault.should_be::text as should_be
    from invoices i
    left join invoice_voids v on v.tenant_id = i.tenant_id and v.invoice_id = i.id
    left join invoice_balances b on b.tenant_id = i.tenant_id and b.invoice_id = i.id
    cross join lateral (
      select count(*) as all_of, count(h.invoice_id) as held
      from invoice_work_orders w
      left join billed_work_orders h on h.tenant_id = w.tenant_id and h.invoice_id = w.invoice_id
        and h.work_order_id = w.work_order_id
      where w.tenant_id = i.tenant_id and w.invoice_id = i.id) work
    cross join lateral (values
      (' void, open', case when v.invoice_id is null then 0 else b.open_minor end, 0),
      (' work orders held', work.held, case when v.invoice_id is null then work.all_of else 0 end))
      fault (word, stands, should_be)
    where i.tenant_id = ${tx.tenantId}::uuid and fault.stands <> fault.should_be
    order by i.number limit ${shownMax}`);
  return rows.map(asMismatch);
}

/** Invoices of which more is in dispute than they ever came to. */
export async function wrongDisputes(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select i.number || ' disputed' as what, sum(d.amount_minor)::text as stands, i.total_minor::text as should_be
    from disputes d
    join invoices i on i.tenant_id = d.tenant_id and i.id = d.invoice_id
    where d.tenant_id = ${tx.tenantId}::uuid
      and not exists (select 1 from dispute_answers a where a.tenant_id = d.tenant_id and a.dispute_id = d.id)
    group by i.number, i.total_minor
    having sum(d.amount_minor) > i.total_minor
    order by i.number limit ${shownMax}`);
  return rows.map(asMismatch);
}

function asMismatch(row: MismatchRow): Mismatch {
  return { what: row.what, stands: BigInt(row.stands), shouldBe: BigInt(row.should_be) };
}
