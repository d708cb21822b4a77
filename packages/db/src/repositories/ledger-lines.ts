import type { Day, JournalEvent, LedgerAccountCode } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import type { ReportedDays } from './sales-tax-facts.ts';

/** A line of the journal with the names that others know its references by. */
export interface NamedLedgerLine {
  readonly posting: bigint;
  readonly position: number;
  readonly on: Day;
  readonly event: JournalEvent;
  readonly ledgerAccount: LedgerAccountCode;
  /** Debit positive, credit negative. */
  readonly amountMinor: bigint;
  readonly account: string;
  readonly invoice: string;
  readonly creditNote: string;
  readonly payment: string;
  readonly taxArea: string;
  readonly taxComponent: string;
}

interface LineRow extends Record<string, unknown> {
  readonly posting: string;
  readonly position: number;
  readonly day: Day;
  readonly event: JournalEvent;
  readonly ledger_account: LedgerAccountCode;
  readonly amount: string;
  readonly account: string;
  readonly invoice: string;
  readonly credit_note: string;
  readonly payment: string;
  readonly tax_area: string;
  readonly tax_component: string;
}

/** The journal of some days, in the order of posting. */
export async function listLedgerLines(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
): Promise<readonly NamedLedgerLine[]> {
  const rows = await tx.execute<LineRow>(sql`
    select e.posting::text, l.position, e.occurred_on::text as day, e.event, l.ledger_account, l.amount_minor::text as amount,
      coalesce(a.short_name, '') as account, coalesce(i.number, '') as invoice, coalesce(n.number, '') as credit_note,
      coalesce(l.payment_id::text, '') as payment, coalesce(l.tax_area, '') as tax_area,
      coalesce(l.tax_component, '') as tax_component
    from journal_entries e
    join journal_lines l on l.tenant_id = e.tenant_id and l.entry_id = e.id
    left join accounts a on a.tenant_id = l.tenant_id and a.id = l.account_id
    left join invoices i on i.tenant_id = l.tenant_id and i.id = l.invoice_id
    left join credit_notes n on n.tenant_id = l.tenant_id and n.id = l.credit_note_id
    where e.tenant_id = ${tx.tenantId}::uuid and e.occurred_on between ${from}::date and ${to}::date
    order by e.posting, l.position`);
  return rows.map((row) => ({
    posting: BigInt(row.posting),
    position: row.position,
    on: row.day,
    event: row.event,
    ledgerAccount: row.ledger_account,
    amountMinor: BigInt(row.amount),
    account: row.account,
    invoice: row.invoice,
    creditNote: row.credit_note,
    payment: row.payment,
    taxArea: row.tax_area,
    taxComponent: row.tax_component,
  }));
}
