import type { Day, Instant, InvoiceId, PersonId } from '@grainwright/domain';
import { and, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { billedWorkOrders, invoiceVoids } from '../schema/billing.ts';

/** For a query that reads `invoices`: only those that were not voided. */
export const stillStands = sql`not exists (select 1 from invoice_voids v
  where v.tenant_id = "invoices"."tenant_id" and v.invoice_id = "invoices"."id")`;

export interface InvoiceVoid {
  readonly invoiceId: InvoiceId;
  readonly voidedOn: Day;
  readonly reason: string;
  readonly voidedBy: PersonId;
  readonly voidedAt: Instant;
}

/** Writes the void down and lets the work orders of the invoice go, so that they may be billed again. */
export async function insertVoid(tx: TenantTransaction, voided: InvoiceVoid): Promise<void> {
  await tx.insert(invoiceVoids).values({ tenantId: tx.tenantId, ...voided });
  await tx
    .delete(billedWorkOrders)
    .where(and(eq(billedWorkOrders.tenantId, tx.tenantId), eq(billedWorkOrders.invoiceId, voided.invoiceId)));
}
