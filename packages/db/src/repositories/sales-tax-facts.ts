import {
  type ComponentSum,
  type CreditNoteId,
  type Day,
  type DocumentSum,
  type ExemptSum,
  type InvoiceId,
  type JsonValue,
  type Month,
  type ReclaimedTax,
  type TaxBaseSum,
  type TaxSource,
  toId,
} from '@grainwright/domain';
import { type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';

/** The days of a report, both in it. */
export interface ReportedDays {
  readonly from: Day;
  readonly to: Day;
}

/**
 * The documents of the period, each under the month of its day: invoices, credit notes, and voids of invoices. An
 * invoice that was voided in the month in which it was issued is in none of them.
 */
function reported(tx: TenantTransaction, { from, to }: ReportedDays): SQL {
  return sql`
    select 'invoices' as source, i.id, i.issued_on as day, i.net_minor, i.tax_minor
    from invoices i left join invoice_voids v on v.tenant_id = i.tenant_id and v.invoice_id = i.id
    where i.tenant_id = ${tx.tenantId}::uuid and i.kind = 'invoice' and i.issued_on between ${from}::date and ${to}::date
      and (v.voided_on is null or v.voided_on > ${to}::date
        or date_trunc('month', v.voided_on) <> date_trunc('month', i.issued_on))
    union all
    select 'voids', i.id, v.voided_on, i.net_minor, i.tax_minor
    from invoice_voids v join invoices i on i.tenant_id = v.tenant_id and i.id = v.invoice_id
    where v.tenant_id = ${tx.tenantId}::uuid and i.kind = 'invoice' and v.voided_on between ${from}::date and ${to}::date
      and (i.issued_on < ${from}::date or date_trunc('month', v.voided_on) <> date_trunc('month', i.issued_on))
    union all
    select 'credit_notes', n.id, n.issued_on, n.net_minor, n.tax_minor
    from credit_notes n
    where n.tenant_id = ${tx.tenantId}::uuid and n.issued_on between ${from}::date and ${to}::date`;
}

const monthWords = sql`to_char(d.day, 'YYYY-MM')`;

export async function sumReportedDocuments(
  tx: TenantTransaction,
  days: ReportedDays,
): Promise<readonly DocumentSum[]> {
  const rows = await tx.execute<{
    month: Month;
    source: TaxSource;
    documents: number;
    net: string;
    tax: string;
  }>(sql`
    with d as (${reported(tx, days)})
    select ${monthWords} as month, d.source, count(*)::integer as documents, sum(d.net_minor)::text as net,
      sum(d.tax_minor)::text as tax
    from d group by 1, 2 order by 1, 2`);
  return rows.map(({ net, tax, ...row }) => ({ ...row, netMinor: BigInt(net), taxMinor: BigInt(tax) }));
}

export async function sumTaxBases(tx: TenantTransaction, days: ReportedDays): Promise<readonly TaxBaseSum[]> {
  const rows = await tx.execute<{
    month: Month;
    source: TaxSource;
    area: string;
    taxable: string;
    exempt: string;
    non_taxable: string;
  }>(sql`
    with d as (${reported(tx, days)})
    select ${monthWords} as month, d.source, b.area_code as area, sum(b.taxable_minor)::text as taxable,
      sum(b.exempt_minor)::text as exempt, sum(b.non_taxable_minor)::text as non_taxable
    from d join (
      select invoice_id as id, false as credit, area_code, taxable_minor, exempt_minor, non_taxable_minor
      from invoice_tax_bases where tenant_id = ${tx.tenantId}::uuid
      union all
      select credit_note_id, true, area_code, taxable_minor, exempt_minor, non_taxable_minor
      from credit_note_tax_bases where tenant_id = ${tx.tenantId}::uuid) b
      on b.id = d.id and b.credit = (d.source = 'credit_notes')
    group by 1, 2, 3`);
  return rows.map((row) => ({
    month: row.month,
    source: row.source,
    areaCode: row.area,
    taxableMinor: BigInt(row.taxable),
    exemptMinor: BigInt(row.exempt),
    nonTaxableMinor: BigInt(row.non_taxable),
  }));
}

export async function sumTaxesByComponent(
  tx: TenantTransaction,
  days: ReportedDays,
): Promise<readonly ComponentSum[]> {
  const rows = await tx.execute<{
    month: Month;
    source: TaxSource;
    area: string;
    component: string;
    amount: string;
  }>(sql`
    with d as (${reported(tx, days)})
    select ${monthWords} as month, d.source, t.area_code as area, t.component, sum(t.tax_minor)::text as amount
    from d join (
      select invoice_id as id, false as credit, position, area_code, component, tax_minor
      from invoice_taxes where tenant_id = ${tx.tenantId}::uuid
      union all
      select credit_note_id, true, position, area_code, component, tax_minor
      from credit_note_taxes where tenant_id = ${tx.tenantId}::uuid) t
      on t.id = d.id and t.credit = (d.source = 'credit_notes')
    group by 1, 2, 3, 4 order by 1, 2, 3, min(t.position), 4`);
  return rows.map(({ area, amount, ...row }) => ({ ...row, areaCode: area, amountMinor: BigInt(amount) }));
}

/**
 * What invoices and voids were exempt by, where the visits of an invoice in an area had certificates of one kind, as
 * nearly all do. `mixed` are the documents with more: only what they were computed from tells those apart.
 */
export async function sumExemptByKind(
  tx: TenantTransaction,
  days: ReportedDays,
): Promise<{ readonly exempt: readonly ExemptSum[]; readonly mixed: readonly ExemptDocument[] }> {
  const rows = await tx.execute<{
    month: Month;
    source: TaxSource;
    area: string;
    kind: ExemptSum['kind'] | null;
    amount: string;
    ids: string[];
  }>(sql`
    with d as (${reported(tx, days)}),
      held as (
        select invoice_id, area_code, min(certificate_kind) as kind from invoice_visits
        where tenant_id = ${tx.tenantId}::uuid and certificate_kind is not null
        group by invoice_id, area_code having count(distinct certificate_kind) = 1)
    select ${monthWords} as month, d.source, b.area_code as area, held.kind, sum(b.exempt_minor)::text as amount,
      case when held.kind is null then array_agg(d.id::text) else '{}' end as ids
    from d join invoice_tax_bases b on b.tenant_id = ${tx.tenantId}::uuid and b.invoice_id = d.id
    left join held on held.invoice_id = b.invoice_id and held.area_code = b.area_code
    where d.source <> 'credit_notes' and b.exempt_minor <> 0
    group by 1, 2, 3, 4`);
  return {
    exempt: rows.flatMap(({ kind, month, source, area, amount }) =>
      kind === null ? [] : [{ month, source, areaCode: area, kind, amountMinor: BigInt(amount) }],
    ),
    mixed: rows.flatMap(({ month, source, area, ids }) =>
      ids.map((id) => ({ month, source, areaCode: area, id: toId<InvoiceId>(id) })),
    ),
  };
}

/** A document that is exempt in an area in a way that only its basis tells. */
export interface ExemptDocument {
  readonly month: Month;
  readonly source: TaxSource;
  readonly areaCode: string;
  readonly id: InvoiceId;
}

export async function listBases(
  tx: TenantTransaction,
  ids: readonly InvoiceId[],
): Promise<ReadonlyMap<InvoiceId, JsonValue>> {
  if (ids.length === 0) return new Map();
  const rows = await tx.execute<{ id: string; basis: JsonValue }>(sql`
    select id, basis from invoices where tenant_id = ${tx.tenantId}::uuid and basis is not null
      and id in (${sql.join(
        ids.map((id) => sql`${id}::uuid`),
        sql`, `,
      )})`);
  return new Map(rows.map((row) => [toId<InvoiceId>(row.id), row.basis]));
}

/** A credit note that moves exempt amounts: what its invoice was computed from before and after it. */
export interface ExemptCredit {
  readonly id: CreditNoteId;
  readonly month: Month;
  readonly before: JsonValue;
  readonly after: JsonValue;
}

export async function listExemptCredits(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
): Promise<readonly ExemptCredit[]> {
  const rows = await tx.execute<{ id: string; month: Month; before: JsonValue; after: JsonValue }>(sql`
    select n.id, to_char(n.issued_on, 'YYYY-MM') as month, n.remaining as after, coalesce((
      select earlier.remaining from credit_notes earlier where earlier.tenant_id = n.tenant_id
        and earlier.invoice_id = n.invoice_id and earlier.sequence < n.sequence
      order by earlier.sequence desc limit 1), i.basis) as before
    from credit_notes n join invoices i on i.tenant_id = n.tenant_id and i.id = n.invoice_id
    where n.tenant_id = ${tx.tenantId}::uuid and n.issued_on between ${from}::date and ${to}::date
      and exists (select from credit_note_tax_bases b
        where b.tenant_id = n.tenant_id and b.credit_note_id = n.id and b.exempt_minor <> 0)
    order by n.sequence`);
  return rows.map((row) => ({ ...row, id: toId<CreditNoteId>(row.id) }));
}

/** Tax taken back with bad debts in the period, less that of debts which were recovered in it. */
export async function sumReclaimedTax(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
): Promise<readonly ReclaimedTax[]> {
  const rows = await tx.execute<{ month: Month; area: string; component: string; amount: string }>(sql`
    select to_char(d.day, 'YYYY-MM') as month, t.area_code as area, t.component, sum(d.sign * t.tax_minor)::text as amount
    from (
      select id, written_off_on as day, 1 as sign from write_offs where tenant_id = ${tx.tenantId}::uuid
      union all
      select write_off_id, recovered_on, -1 from write_off_recoveries where tenant_id = ${tx.tenantId}::uuid) d
    join write_off_taxes t on t.tenant_id = ${tx.tenantId}::uuid and t.write_off_id = d.id
    where d.day between ${from}::date and ${to}::date
    group by 1, 2, 3 order by 1, 2, 3`);
  return rows.map(({ area, amount, ...row }) => ({ ...row, areaCode: area, amountMinor: BigInt(amount) }));
}

export interface PayableTax {
  readonly month: Month;
  readonly areaCode: string;
  readonly component: string;
  readonly amountMinor: bigint;
}

/** What the ledger's tax payable moved in the period: positive is owed. */
export async function sumTaxPayable(
  tx: TenantTransaction,
  { from, to }: ReportedDays,
): Promise<readonly PayableTax[]> {
  const rows = await tx.execute<{ month: Month; area: string; component: string; amount: string }>(sql`
    select to_char(e.occurred_on, 'YYYY-MM') as month, coalesce(l.tax_area, '') as area,
      coalesce(l.tax_component, '') as component, (-sum(l.amount_minor))::text as amount
    from journal_entries e join journal_lines l on l.tenant_id = e.tenant_id and l.entry_id = e.id
    where e.tenant_id = ${tx.tenantId}::uuid and e.occurred_on between ${from}::date and ${to}::date
      and l.ledger_account = 'tax_payable'
    group by 1, 2, 3 order by 1, 2, 3`);
  return rows.map(({ area, amount, ...row }) => ({ ...row, areaCode: area, amountMinor: BigInt(amount) }));
}

export async function listAreaNames(tx: TenantTransaction): Promise<ReadonlyMap<string, string>> {
  const rows = await tx.execute<{ code: string; name: string }>(sql`
    select code, name from tax_areas where tenant_id = ${tx.tenantId}::uuid`);
  return new Map(rows.map((row) => [row.code, row.name]));
}
