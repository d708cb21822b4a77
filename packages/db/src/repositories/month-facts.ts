import type { Day, Month } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';

/** What a bookkeeper looks at before a month is closed, as of its last day. */
export interface MonthFacts {
  /** Receipts of unknown payers. */
  readonly unassigned: number;
  /** Work dated in the month or before that is accepted and on no invoice. */
  readonly toInvoice: number;
  /** Accounts that get statements and had a posting by then. */
  readonly toGetStatements: number;
  /** Of those, how many have the statement of this month. */
  readonly gotStatements: number;
}

export async function countMonthFacts(tx: TenantTransaction, month: Month, last: Day): Promise<MonthFacts> {
  const tenant = sql`${tx.tenantId}::uuid`;
  const rows = await tx.execute<{ unassigned: number; to_invoice: number; due: number; got: number }>(sql`
    with due as (
      select a.id from accounts a where a.tenant_id = ${tenant} and a.statement_kind <> 'none' and exists (
        select from journal_lines l join journal_entries e on e.tenant_id = l.tenant_id and e.id = l.entry_id
        where l.tenant_id = a.tenant_id and l.account_id = a.id and e.occurred_on <= ${last}::date))
    select
      (select count(*)::integer from parked_receipts p
        left join receipt_assignments a on a.tenant_id = p.tenant_id and a.receipt_id = p.id
        where p.tenant_id = ${tenant} and p.received_on <= ${last}::date
          and (a.assigned_on is null or a.assigned_on > ${last}::date)) as unassigned,
      (select count(*)::integer from work_orders w
        join visits v on v.tenant_id = w.tenant_id and v.id = w.visit_id
        where w.tenant_id = ${tenant} and w.state = 'accepted' and w.rework_of_id is null and v.day <= ${last}::date)
        as to_invoice,
      (select count(*)::integer from due) as due,
      (select count(*)::integer from due join statements s on s.tenant_id = ${tenant} and s.account_id = due.id
        where s.month = ${`${month}-01`}::date) as got`);
  const [row] = rows;
  if (row === undefined) throw new Error('a count gave no row');
  return {
    unassigned: row.unassigned,
    toInvoice: row.to_invoice,
    toGetStatements: row.due,
    gotStatements: row.got,
  };
}
