import type {
  AcceptanceId,
  AccountId,
  ExemptionCertificate,
  InvoiceId,
  VisitId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, gt, inArray, lt, notInArray, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import {
  invoiceBalances,
  invoiceLines,
  invoices,
  invoiceTaxBases,
  invoiceTaxes,
  invoiceWorkOrders,
} from '../schema/billing.ts';
import { acceptances } from '../schema/evidence.ts';
import { decisions, workOrders } from '../schema/work-orders.ts';

type Own<Row> = Omit<Row, 'tenantId' | 'invoiceId'>;
export type InvoiceRow = typeof invoices.$inferSelect;
export type InvoiceLineRow = Own<typeof invoiceLines.$inferSelect>;
export type InvoiceTaxRow = Own<typeof invoiceTaxes.$inferSelect>;
export type InvoiceTaxBasisRow = Own<typeof invoiceTaxBases.$inferSelect>;
export type InvoiceWorkOrderRow = Own<typeof invoiceWorkOrders.$inferSelect>;

export interface NewInvoice {
  readonly invoice: Omit<typeof invoices.$inferInsert, 'tenantId'>;
  readonly lines: readonly InvoiceLineRow[];
  readonly workOrders: readonly InvoiceWorkOrderRow[];
  readonly taxes: readonly InvoiceTaxRow[];
  readonly taxBases: readonly InvoiceTaxBasisRow[];
}

/** Writes an invoice with everything that stands on it; all of it is open. False when the id is taken. */
export async function insertInvoice(tx: TenantTransaction, document: NewInvoice): Promise<boolean> {
  const { invoice } = document;
  const key = { tenantId: tx.tenantId, invoiceId: invoice.id };
  const inserted = await tx
    .insert(invoices)
    .values({ tenantId: tx.tenantId, ...invoice })
    .onConflictDoNothing({ target: [invoices.tenantId, invoices.id] })
    .returning({ id: invoices.id });
  if (inserted.length === 0) return false;
  await tx.insert(invoiceLines).values(document.lines.map((line) => ({ ...key, ...line })));
  await tx.insert(invoiceWorkOrders).values(document.workOrders.map((each) => ({ ...key, ...each })));
  if (document.taxes.length > 0)
    await tx.insert(invoiceTaxes).values(document.taxes.map((tax) => ({ ...key, ...tax })));
  await tx.insert(invoiceTaxBases).values(document.taxBases.map((basis) => ({ ...key, ...basis })));
  await tx.insert(invoiceBalances).values({ ...key, openMinor: invoice.totalMinor });
  return true;
}

/** An invoice without what it was computed from, its account's name and what is still open of it. */
export interface FoundInvoice extends Omit<InvoiceRow, 'tenantId' | 'basis'> {
  readonly accountName: string;
  readonly openMinor: bigint;
}

export async function findInvoice(tx: TenantTransaction, id: InvoiceId): Promise<FoundInvoice | null> {
  const [row] = await selectInvoices(tx, eq(invoices.id, id)).limit(1);
  return row ?? null;
}

/** What kind the certificate is that an invoice was exempt by, as it was when the invoice was computed. */
export async function findCertificateKind(
  tx: TenantTransaction,
  id: InvoiceId,
): Promise<CertificateKind | null> {
  const [row] = await tx
    .select({
      kind: sql<CertificateKind | null>`(select held ->> 'kind'
        from jsonb_array_elements(${invoices.basis} -> 'certificates') held
        where held ->> 'number' = ${invoices.certificateNumber} limit 1)`,
    })
    .from(invoices)
    .where(and(eq(invoices.tenantId, tx.tenantId), eq(invoices.id, id)));
  return row?.kind ?? null;
}

type CertificateKind = ExemptionCertificate['kind'];

export interface InvoiceFilter {
  readonly accountId: AccountId | null;
  readonly openOnly: boolean;
  /** Only those that come after this sequence in the order listed. */
  readonly past: bigint | null;
  readonly limit: number;
  readonly oldestFirst: boolean;
}

/** By their running number, newest first or oldest first. */
export async function listInvoices(
  tx: TenantTransaction,
  filter: InvoiceFilter,
): Promise<readonly FoundInvoice[]> {
  const beyond = filter.oldestFirst ? gt : lt;
  const where = and(
    filter.accountId === null ? undefined : eq(invoices.accountId, filter.accountId),
    filter.openOnly ? gt(invoiceBalances.openMinor, 0n) : undefined,
    filter.past === null ? undefined : beyond(invoices.sequence, filter.past),
  );
  const order = filter.oldestFirst ? asc(invoices.sequence) : desc(invoices.sequence);
  return selectInvoices(tx, where).orderBy(order).limit(filter.limit);
}

function selectInvoices(tx: TenantTransaction, where: SQL | undefined) {
  return tx
    .select(invoiceColumns)
    .from(invoices)
    .innerJoin(
      invoiceBalances,
      and(eq(invoiceBalances.tenantId, invoices.tenantId), eq(invoiceBalances.invoiceId, invoices.id)),
    )
    .innerJoin(accounts, and(eq(accounts.tenantId, invoices.tenantId), eq(accounts.id, invoices.accountId)))
    .where(and(eq(invoices.tenantId, tx.tenantId), where));
}

const invoiceColumns = {
  id: invoices.id,
  sequence: invoices.sequence,
  number: invoices.number,
  accountId: invoices.accountId,
  accountName: accounts.name,
  visitId: invoices.visitId,
  issuedOn: invoices.issuedOn,
  dueOn: invoices.dueOn,
  workedOn: invoices.workedOn,
  currency: invoices.currency,
  seller: invoices.seller,
  buyer: invoices.buyer,
  certificateNumber: invoices.certificateNumber,
  netMinor: invoices.netMinor,
  taxMinor: invoices.taxMinor,
  totalMinor: invoices.totalMinor,
  issuedBy: invoices.issuedBy,
  issuedAt: invoices.issuedAt,
  kind: invoices.kind,
  subject: invoices.subject,
  openMinor: invoiceBalances.openMinor,
};

export async function listInvoiceLines(
  tx: TenantTransaction,
  invoiceId: InvoiceId,
): Promise<readonly InvoiceLineRow[]> {
  return tx
    .select()
    .from(invoiceLines)
    .where(and(eq(invoiceLines.tenantId, tx.tenantId), eq(invoiceLines.invoiceId, invoiceId)))
    .orderBy(asc(invoiceLines.position));
}

/** A vehicle of an invoice, with who accepted the work on it; null where nobody signed. */
export interface InvoicedVehicle extends InvoiceWorkOrderRow {
  readonly workOrderNumber: bigint;
  readonly acceptance: Pick<
    typeof acceptances.$inferSelect,
    'outcome' | 'remark' | 'signerName' | 'signerRole' | 'acceptedAt'
  > | null;
}

export async function listInvoicedVehicles(
  tx: TenantTransaction,
  invoiceId: InvoiceId,
): Promise<readonly InvoicedVehicle[]> {
  return tx
    .select({
      workOrderId: invoiceWorkOrders.workOrderId,
      workOrderNumber: workOrders.number,
      position: invoiceWorkOrders.position,
      vehicle: invoiceWorkOrders.vehicle,
      numbers: invoiceWorkOrders.numbers,
      acceptanceId: invoiceWorkOrders.acceptanceId,
      subtotalMinor: invoiceWorkOrders.subtotalMinor,
      acceptance: {
        outcome: acceptances.outcome,
        remark: acceptances.remark,
        signerName: acceptances.signerName,
        signerRole: acceptances.signerRole,
        acceptedAt: acceptances.acceptedAt,
      },
    })
    .from(invoiceWorkOrders)
    .innerJoin(
      workOrders,
      and(
        eq(workOrders.tenantId, invoiceWorkOrders.tenantId),
        eq(workOrders.id, invoiceWorkOrders.workOrderId),
      ),
    )
    .leftJoin(
      acceptances,
      and(
        eq(acceptances.tenantId, invoiceWorkOrders.tenantId),
        eq(acceptances.id, invoiceWorkOrders.acceptanceId),
      ),
    )
    .where(and(eq(invoiceWorkOrders.tenantId, tx.tenantId), eq(invoiceWorkOrders.invoiceId, invoiceId)))
    .orderBy(asc(invoiceWorkOrders.position));
}

export async function listInvoiceTaxes(
  tx: TenantTransaction,
  invoiceId: InvoiceId,
): Promise<readonly InvoiceTaxRow[]> {
  return tx
    .select()
    .from(invoiceTaxes)
    .where(and(eq(invoiceTaxes.tenantId, tx.tenantId), eq(invoiceTaxes.invoiceId, invoiceId)))
    .orderBy(asc(invoiceTaxes.position));
}

/** The number of the invoice that holds each of these work orders, where one does. */
export async function findInvoiceNumbersOf(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly { workOrderId: WorkOrderId; invoiceId: InvoiceId; number: string }[]> {
  return tx
    .select({
      workOrderId: invoiceWorkOrders.workOrderId,
      invoiceId: invoices.id,
      number: invoices.number,
    })
    .from(invoiceWorkOrders)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceWorkOrders.tenantId), eq(invoices.id, invoiceWorkOrders.invoiceId)),
    )
    .where(
      and(
        eq(invoiceWorkOrders.tenantId, tx.tenantId),
        inArray(invoiceWorkOrders.workOrderId, [...workOrderIds]),
      ),
    );
}

export interface BilledOfVisit {
  /** With minimums. */
  readonly repairsMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly tripCharged: boolean;
}

/** What earlier invoices of a visit hold already. */
export async function findBilledOfVisit(tx: TenantTransaction, visitId: VisitId): Promise<BilledOfVisit> {
  const [row] = await tx
    .select({
      repairsMinor: sql<string>`coalesce(sum(${invoiceLines.netMinor}) filter (where ${invoiceLines.kind} in ('repair', 'minimum')), 0)`,
      afterHoursMinor: sql<string>`coalesce(sum(${invoiceLines.netMinor}) filter (where ${invoiceLines.kind} = 'after_hours'), 0)`,
      tripCharged: sql<boolean>`coalesce(bool_or(${invoiceLines.kind} = 'trip'), false)`,
    })
    .from(invoices)
    .innerJoin(
      invoiceLines,
      and(eq(invoiceLines.tenantId, invoices.tenantId), eq(invoiceLines.invoiceId, invoices.id)),
    )
    .where(and(eq(invoices.tenantId, tx.tenantId), eq(invoices.visitId, visitId)));
  return {
    repairsMinor: BigInt(row?.repairsMinor ?? 0),
    afterHoursMinor: BigInt(row?.afterHoursMinor ?? 0),
    tripCharged: row?.tripCharged ?? false,
  };
}

/** Repairs of a visit, with minimums, that are approved and on no invoice yet, but for these work orders. */
export async function sumApprovedUnbilled(
  tx: TenantTransaction,
  visitId: VisitId,
  but: readonly WorkOrderId[],
): Promise<bigint> {
  const [row] = await tx
    .select({ repairsMinor: sql<string>`coalesce(sum(${decisions.repairsMinor}), 0)` })
    .from(workOrders)
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.visitId, visitId),
        inArray(workOrders.state, ['approved', 'in_work', 'done', 'accepted']),
        notInArray(workOrders.id, [...but]),
      ),
    );
  return BigInt(row?.repairsMinor ?? 0);
}

/** The acceptance of each of these work orders that has one. */
export async function listAcceptancesOf(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly { workOrderId: WorkOrderId; id: AcceptanceId }[]> {
  return tx
    .select({ workOrderId: acceptances.workOrderId, id: acceptances.id })
    .from(acceptances)
    .where(
      and(
        eq(acceptances.tenantId, tx.tenantId),
        inArray(acceptances.workOrderId, [...workOrderIds]),
        sql`${acceptances.outcome} <> 'not_accepted'`,
      ),
    );
}
