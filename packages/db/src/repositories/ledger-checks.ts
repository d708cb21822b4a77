import { type AccountId, toId } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';

/** Something that does not add up: which one it is, what stands there and what should. Minor units, or counts. */
export interface Mismatch {
  readonly what: string;
  readonly stands: bigint;
  readonly shouldBe: bigint;
}

type MismatchRow = { readonly what: string; readonly stands: string; readonly should_be: string };

const shownMax = 20;

/** Journal entries that do not sum to zero or have fewer than two lines. */
export async function unbalancedEntries(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select 'posting ' || e.posting as what, coalesce(sum(l.amount_minor), 0)::text as stands, '0' as should_be
    from journal_entries e
    left join journal_lines l on l.tenant_id = e.tenant_id and l.entry_id = e.id
    where e.tenant_id = ${tx.tenantId}::uuid
    group by e.tenant_id, e.id, e.posting
    having coalesce(sum(l.amount_minor), 0) <> 0 or count(l.entry_id) < 2
    order by e.posting limit ${shownMax}`);
  return rows.map(asMismatch);
}

/** Invoices whose open amount is not what the ledger's receivables say, or whose total is not what was posted. */
export async function wrongInvoiceBalances(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    with posted as (
      select l.invoice_id, sum(l.amount_minor) as open,
        sum(l.amount_minor) filter (where e.event in ('invoice_issued', 'return_fee_charged', 'late_charge_charged', 'opening_balance')) as charged
      from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
      where l.tenant_id = ${tx.tenantId}::uuid and l.ledger_account = 'receivables'
      group by l.invoice_id)
    select i.number || fault.word as what, fault.stands::text as stands, fault.should_be::text as should_be
    from invoices i
    left join invoice_balances b on b.tenant_id = i.tenant_id and b.invoice_id = i.id
    left join posted p on p.invoice_id = i.id
    cross join lateral (values
      (' open', coalesce(b.open_minor, -1), coalesce(p.open, 0)),
      (' total', i.total_minor, coalesce(p.charged, 0))) fault (word, stands, should_be)
    where i.tenant_id = ${tx.tenantId}::uuid and fault.stands <> fault.should_be
    order by i.sequence limit ${shownMax}`);
  return rows.map(asMismatch);
}

/** Payments whose unapplied amount is not what the ledger says: in account credit, of a deposit in deposits held. */
export async function wrongPaymentBalances(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    with posted as (
      select payment_id, ledger_account, -sum(amount_minor) as unapplied from journal_lines
      where tenant_id = ${tx.tenantId}::uuid and ledger_account in ('account_credit', 'deposits_held')
        and payment_id is not null
      group by payment_id, ledger_account)
    select 'payment ' || p.id as what, coalesce(b.unapplied_minor, -1)::text as stands,
      coalesce(posted.unapplied, 0)::text as should_be
    from payments p
    left join payment_balances b on b.tenant_id = p.tenant_id and b.payment_id = p.id
    left join posted on posted.payment_id = p.id
      and posted.ledger_account = case p.purpose when 'deposit' then 'deposits_held' else 'account_credit' end
    where p.tenant_id = ${tx.tenantId}::uuid and coalesce(b.unapplied_minor, -1) <> coalesce(posted.unapplied, 0)
    order by p.received_on, p.id limit ${shownMax}`);
  return rows.map(asMismatch);
}

/** Running numbers with gaps: from the first to the last there must be as many as there are documents. */
export async function brokenNumbering(tx: TenantTransaction): Promise<readonly Mismatch[]> {
  const rows = await tx.execute<MismatchRow>(sql`
    select numbered.kind as what, numbered.count::text as stands, (n.next - numbered.first)::text as should_be
    from (
      select case kind when 'invoice' then 'invoice' when 'opening_balance' then 'opening' else 'fee' end as kind,
        count(*) as count, min(sequence) as first from invoices
      where tenant_id = ${tx.tenantId}::uuid group by 1
      union all
      select 'credit_note', count(*), min(sequence) from credit_notes where tenant_id = ${tx.tenantId}::uuid
      union all
      select 'posting', count(*), min(posting) from journal_entries where tenant_id = ${tx.tenantId}::uuid
    ) numbered
    join document_numbers n on n.tenant_id = ${tx.tenantId}::uuid and n.kind = numbered.kind
    where numbered.count > 0 and numbered.count <> n.next - numbered.first`);
  return rows.map(asMismatch);
}

/** The accounts that have anything in the ledger. */
export async function listAccountsWithEntries(
  tx: TenantTransaction,
): Promise<readonly { readonly id: AccountId; readonly name: string }[]> {
  const rows = await tx.execute<{ id: string; name: string }>(sql`
    select a.id, a.name from accounts a
    where a.tenant_id = ${tx.tenantId}::uuid
      and exists (select 1 from journal_lines l where l.tenant_id = a.tenant_id and l.account_id = a.id)
    order by a.name, a.id`);
  return rows.map((row) => ({ ...row, id: toId<AccountId>(row.id) }));
}

function asMismatch(row: MismatchRow): Mismatch {
  return { what: row.what, stands: BigInt(row.stands), shouldBe: BigInt(row.should_be) };
}
