import {
  type AccountId,
  type AgingBasis,
  type AgingBucket,
  type AgingSpan,
  type Day,
  type InvoiceId,
  type LedgerAccountCode,
  toId,
} from '@grainwright/domain';
import { type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';

/** What is open of an account in one bucket, and how much of it is in dispute. */
export interface OpenInBucket {
  readonly accountId: AccountId;
  readonly bucket: AgingBucket;
  readonly openMinor: bigint;
  readonly disputedMinor: bigint;
}

/** Sums what was open on a day by account and bucket: five rows an account at most, however many documents there are. */
export async function sumOpenByBucket(
  tx: TenantTransaction,
  asOf: Day,
  basis: AgingBasis,
  spans: readonly AgingSpan[],
): Promise<readonly OpenInBucket[]> {
  const span = ({ bucket, from, to }: AgingSpan): SQL => sql`(${bucket}, ${from}::date, ${to}::date)`;
  const rows = await tx.execute<{
    account_id: string;
    bucket: AgingBucket;
    open: string;
    disputed: string;
  }>(sql`
    with open_items as (${openItems(tx, asOf, null)}),
      spans (bucket, first_day, last_day) as (values ${sql.join(spans.map(span), sql`, `)})
    select o.account_id, s.bucket, sum(o.open)::text as open, sum(o.disputed)::text as disputed
    from open_items o
    join spans s on o.${basis === 'due_date' ? sql`due_on` : sql`issued_on`}
      between coalesce(s.first_day, '-infinity') and coalesce(s.last_day, 'infinity')
    group by o.account_id, s.bucket`);
  return rows.map((row) => ({
    accountId: toId<AccountId>(row.account_id),
    bucket: row.bucket,
    openMinor: BigInt(row.open),
    disputedMinor: BigInt(row.disputed),
  }));
}

export interface OpenItemRow {
  readonly invoiceId: InvoiceId;
  readonly number: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  readonly openMinor: bigint;
  readonly disputedMinor: bigint;
}

/** What was open of an account on a day, document by document, the oldest due first. */
export async function listOpenItems(
  tx: TenantTransaction,
  accountId: AccountId,
  asOf: Day,
  limit: number,
): Promise<readonly OpenItemRow[]> {
  const rows = await tx.execute<{
    invoice_id: string;
    number: string;
    issued_on: Day;
    due_on: Day;
    open: string;
    disputed: string;
  }>(sql`
    with open_items as (${openItems(tx, asOf, accountId)})
    select invoice_id, number, issued_on::text, due_on::text, open::text, disputed::text from open_items
    order by open_items.due_on, number limit ${limit}`);
  return rows.map((row) => ({
    invoiceId: toId<InvoiceId>(row.invoice_id),
    number: row.number,
    issuedOn: row.issued_on,
    dueOn: row.due_on,
    openMinor: BigInt(row.open),
    disputedMinor: BigInt(row.disputed),
  }));
}

/** Documents of which something is open on a day, by the ledger; in dispute is never more than is open. */
function openItems(tx: TenantTransaction, asOf: Day, accountId: AccountId | null): SQL {
  const own = accountId === null ? sql`` : sql`and l.account_id = ${accountId}::uuid`;
  return sql`
    select moved.account_id, moved.invoice_id, moved.open, i.number, i.issued_on, i.due_on,
      greatest(least(coalesce(claimed.amount, 0), moved.open), 0) as disputed
    from (
      select l.account_id, l.invoice_id, sum(l.amount_minor) as open
      from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
      where l.tenant_id = ${tx.tenantId}::uuid and l.ledger_account = 'receivables' and e.occurred_on <= ${asOf}::date ${own}
      group by l.account_id, l.invoice_id having sum(l.amount_minor) <> 0) moved
    join invoices i on i.tenant_id = ${tx.tenantId}::uuid and i.id = moved.invoice_id
    left join lateral (
      select sum(d.amount_minor) as amount from disputes d
      left join dispute_answers a on a.tenant_id = d.tenant_id and a.dispute_id = d.id
      where d.tenant_id = ${tx.tenantId}::uuid and d.invoice_id = moved.invoice_id and d.opened_on <= ${asOf}::date
        and (a.answered_on is null or a.answered_on > ${asOf}::date)) claimed on true`;
}

/** Credits less debits of account credit on a day, by account; one with none is left out. */
export async function sumAccountCredit(
  tx: TenantTransaction,
  asOf: Day,
): Promise<ReadonlyMap<AccountId, bigint>> {
  const rows = await tx.execute<{ account_id: string; amount: string }>(sql`
    select l.account_id, (-sum(l.amount_minor))::text as amount
    from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
    where l.tenant_id = ${tx.tenantId}::uuid and l.ledger_account = 'account_credit' and e.occurred_on <= ${asOf}::date
    group by l.account_id having sum(l.amount_minor) <> 0`);
  return new Map(rows.map((row) => [toId<AccountId>(row.account_id), BigInt(row.amount)]));
}

/** Debits less credits of each ledger account, of all that is dated up to a day. */
export async function sumLedgerOn(
  tx: TenantTransaction,
  asOf: Day,
): Promise<ReadonlyMap<LedgerAccountCode, bigint>> {
  const rows = await tx.execute<{ account: LedgerAccountCode; amount: string }>(sql`
    select l.ledger_account as account, sum(l.amount_minor)::text as amount
    from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
    where l.tenant_id = ${tx.tenantId}::uuid and e.occurred_on <= ${asOf}::date
    group by l.ledger_account`);
  return new Map(rows.map((row) => [row.account, BigInt(row.amount)]));
}

/** The names of all accounts, also of those that have ended. */
export async function listNamesOfAccounts(
  tx: TenantTransaction,
): Promise<ReadonlyMap<AccountId, { readonly name: string; readonly shortName: string }>> {
  const rows = await tx.execute<{ id: string; name: string; short_name: string }>(sql`
    select id, name, short_name from accounts where tenant_id = ${tx.tenantId}::uuid`);
  return new Map(rows.map((row) => [toId<AccountId>(row.id), { name: row.name, shortName: row.short_name }]));
}
