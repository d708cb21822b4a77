import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import type { Mismatch } from './ledger-checks.ts';

type MismatchRow = { readonly what: string; readonly stands: string; readonly should_be: string };

const shownMax = 20;

/**
 * Payments of which more or less is somewhere than came in: what is unapplied, what settles something, what was refunded,
 * what is at other accounts of the group. Of one that came back nothing is anywhere.
 */
export async function scatteredPayments(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    with applied as (
      select a.payment_id, sum(a.amount_minor) as amount from payment_applications a
      where a.tenant_id = ${tx.tenantId}::uuid and not exists (select 1 from payment_unapplications u
        where u.tenant_id = a.tenant_id and u.application_id = a.id)
      group by 1),
    paid_back as (
      select payment_id, sum(amount_minor) as amount from refunds where tenant_id = ${tx.tenantId}::uuid group by 1),
    moved as (
      select m.payment_id, sum(m.amount_minor) as amount from credit_moves m
      where m.tenant_id = ${tx.tenantId}::uuid and not exists (select 1 from credit_moves b
        where b.tenant_id = m.tenant_id and b.takes_back = m.id)
      group by 1),
    found as (
      select p.id, p.received_on, coalesce(b.unapplied_minor, -1) + coalesce(applied.amount, 0)
          + coalesce(paid_back.amount, 0) + coalesce(moved.amount, 0) as stands,
        case when r.id is null then p.amount_minor else 0 end as should_be
      from payments p
      left join payment_balances b on b.tenant_id = p.tenant_id and b.payment_id = p.id
      left join payment_returns r on r.tenant_id = p.tenant_id and r.payment_id = p.id
      left join applied on applied.payment_id = p.id
      left join paid_back on paid_back.payment_id = p.id
      left join moved on moved.payment_id = p.id
      where p.tenant_id = ${tx.tenantId}::uuid)
    select 'payment ' || id || ' in all' as what, stands::text, should_be::text from found
    where stands <> should_be order by received_on, id limit ${shownMax}`);
  return rows.map(asMismatch);
}

/** Receipts without a payer that are not, together, what the ledger holds as unassigned. */
export async function wrongParkedReceipts(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select 'receipts of unknown payers' as what, parked.amount::text as stands, held.amount::text as should_be
    from (select coalesce(sum(r.amount_minor), 0) as amount from parked_receipts r
        where r.tenant_id = ${tx.tenantId}::uuid and not exists (select 1 from receipt_assignments a
          where a.tenant_id = r.tenant_id and a.receipt_id = r.id)) parked,
      (select coalesce(-sum(amount_minor), 0) as amount from journal_lines
        where tenant_id = ${tx.tenantId}::uuid and ledger_account = 'unassigned_receipts') held
    where parked.amount <> held.amount`);
  return rows.map(asMismatch);
}

/** Documents of fees, late charges and older balances that nothing asks for, and months that charge twice. */
export async function unexplainedDocuments(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select i.number || ' of kind ' || i.kind as what, '0' as stands, '1' as should_be from invoices i
    where i.tenant_id = ${tx.tenantId}::uuid and i.kind <> 'invoice' and not exists (
      select 1 from payment_returns r where i.kind = 'return_fee'
        and r.tenant_id = i.tenant_id and r.fee_invoice_id = i.id
      union all
      select 1 from late_charges c where i.kind = 'late_charge'
        and c.tenant_id = i.tenant_id and c.document_id = i.id
      union all
      select 1 from opening_items o where i.kind = 'opening_balance'
        and o.tenant_id = i.tenant_id and o.invoice_id = i.id)
    order by i.number limit ${shownMax}`);
  return rows.map(asMismatch);
}

function asMismatch(row: MismatchRow): Mismatch {
  return { what: row.what, stands: BigInt(row.stands), shouldBe: BigInt(row.should_be) };
}
