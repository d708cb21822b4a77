import type { AccountId, Day, InvoiceId } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { lateCharges } from '../schema/receipts.ts';

export type LateChargeRow = Omit<typeof lateCharges.$inferSelect, 'tenantId'>;

/** False when the invoice was charged for that month before. */
export async function insertLateCharge(tx: TenantTransaction, row: LateChargeRow): Promise<boolean> {
  const inserted = await tx
    .insert(lateCharges)
    .values({ tenantId: tx.tenantId, ...row })
    .onConflictDoNothing()
    .returning({ invoiceId: lateCharges.invoiceId });
  return inserted.length === 1;
}

export interface PastDueInvoice {
  readonly id: InvoiceId;
  readonly number: string;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  readonly openMinor: bigint;
  readonly disputedMinor: bigint;
}

type PastDueRecord = {
  readonly id: InvoiceId;
  readonly number: string;
  readonly account_id: AccountId;
  readonly account_name: string;
  readonly issued_on: Day;
  readonly due_on: Day;
  readonly open: string;
  readonly disputed: string;
};

/**
 * Invoices, and balances from older books, that were due before a day and have no late charge of its month; oldest due
 * first. Fees and late charges are not among them, nor what was given up.
 */
export async function listPastDue(
  tx: TenantTransaction,
  asked: { readonly dueBefore: Day; readonly month: Day; readonly limit: number },
): Promise<readonly PastDueInvoice[]> {
  const rows = await tx.execute<PastDueRecord>(sql`
    select i.id, i.number, i.account_id, a.name as account_name, i.issued_on::text, i.due_on::text, b.open_minor::text as open,
      (select coalesce(sum(d.amount_minor), 0)::text from disputes d
        where d.tenant_id = i.tenant_id and d.invoice_id = i.id and not exists (select 1 from dispute_answers s
          where s.tenant_id = d.tenant_id and s.dispute_id = d.id)) as disputed
    from invoice_balances b
    join invoices i on i.tenant_id = b.tenant_id and i.id = b.invoice_id
    join accounts a on a.tenant_id = i.tenant_id and a.id = i.account_id
    where b.tenant_id = ${tx.tenantId}::uuid and b.open_minor > 0
      and i.kind in ('invoice', 'opening_balance') and i.due_on < ${asked.dueBefore}::date
      and not exists (select 1 from late_charges c
        where c.tenant_id = i.tenant_id and c.invoice_id = i.id and c.month = ${asked.month}::date)
      and not exists (select 1 from write_offs w
        where w.tenant_id = i.tenant_id and w.invoice_id = i.id and not exists (select 1 from write_off_recoveries r
          where r.tenant_id = w.tenant_id and r.write_off_id = w.id))
    order by i.due_on, i.number limit ${asked.limit}`);
  return rows.map((row) => ({
    id: row.id,
    number: row.number,
    accountId: row.account_id,
    accountName: row.account_name,
    issuedOn: row.issued_on,
    dueOn: row.due_on,
    openMinor: BigInt(row.open),
    disputedMinor: BigInt(row.disputed),
  }));
}
