import { sql } from 'drizzle-orm';

/**
 * What of an invoice's total nobody pays: credit notes applied to it, write-offs that were not recovered, discounts.
 * For a query that reads `invoices`.
 */
export const forgivenOfInvoice = sql<string>`(
  coalesce((select sum(a.amount_minor) from credit_note_applications a
    where a.tenant_id = "invoices"."tenant_id" and a.invoice_id = "invoices"."id"), 0)
  + coalesce((select sum(w.amount_minor) from write_offs w
    where w.tenant_id = "invoices"."tenant_id" and w.invoice_id = "invoices"."id"
      and not exists (select 1 from write_off_recoveries r where r.tenant_id = w.tenant_id and r.write_off_id = w.id)), 0)
  + coalesce((select sum(d.amount_minor) from discounts_taken d
    where d.tenant_id = "invoices"."tenant_id" and d.invoice_id = "invoices"."id"), 0))`;

/** What of an invoice is in dispute and has no answer yet; it may be more than is still open. As above. */
export const claimedOfInvoice = sql<string>`coalesce((select sum(d.amount_minor) from disputes d
  where d.tenant_id = "invoices"."tenant_id" and d.invoice_id = "invoices"."id"
    and not exists (select 1 from dispute_answers a where a.tenant_id = d.tenant_id and a.dispute_id = d.id)), 0)`;
