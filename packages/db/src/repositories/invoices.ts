import type {
  AcceptanceId,
  AccountId,
  Day,
  ExemptionCertificate,
  InvoiceId,
  VisitId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, gt, inArray, isNotNull, isNull, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import {
  billedWorkOrders,
  invoiceBalances,
  invoiceLines,
  invoices,
  invoiceTaxBases,
  invoiceTaxes,
  invoiceVisits,
  invoiceVoids,
  invoiceWorkOrders,
} from '../schema/billing.ts';
import { acceptances } from '../schema/evidence.ts';
import { workOrders } from '../schema/work-orders.ts';
import { claimedOfInvoice, forgivenOfInvoice } from './invoice-sums.ts';

type Own<Row> = Omit<Row, 'tenantId' | 'invoiceId'>;
export type InvoiceRow = typeof invoices.$inferSelect;
export type InvoiceLineRow = Own<typeof invoiceLines.$inferSelect>;
export type InvoiceTaxRow = Own<typeof invoiceTaxes.$inferSelect>;
export type InvoiceTaxBasisRow = Own<typeof invoiceTaxBases.$inferSelect>;
export type InvoiceWorkOrderRow = Own<typeof invoiceWorkOrders.$inferSelect>;
export type InvoiceVisitRow = Omit<Own<typeof invoiceVisits.$inferSelect>, 'accountId'>;

export interface NewInvoice {
  readonly invoice: Omit<typeof invoices.$inferInsert, 'tenantId'>;
  readonly lines: readonly InvoiceLineRow[];
  readonly visits: readonly InvoiceVisitRow[];
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
  await tx
    .insert(invoiceVisits)
    .values(document.visits.map((visit) => ({ ...key, accountId: invoice.accountId, ...visit })));
  await tx.insert(invoiceLines).values(document.lines.map((line) => ({ ...key, ...line })));
  if (document.workOrders.length > 0) {
    await tx.insert(invoiceWorkOrders).values(document.workOrders.map((each) => ({ ...key, ...each })));
    await tx
      .insert(billedWorkOrders)
      .values(document.workOrders.map(({ workOrderId }) => ({ ...key, workOrderId })));
  }
  if (document.taxes.length > 0)
    await tx.insert(invoiceTaxes).values(document.taxes.map((tax) => ({ ...key, ...tax })));
  await tx.insert(invoiceTaxBases).values(document.taxBases.map((basis) => ({ ...key, ...basis })));
  await tx.insert(invoiceBalances).values({ ...key, openMinor: invoice.totalMinor });
  return true;
}

/** An invoice without what it was computed from, its account's name and what is still open of it. */
export interface FoundInvoice extends Omit<InvoiceRow, 'tenantId' | 'basis' | 'certificates'> {
  readonly accountName: string;
  readonly openMinor: bigint;
  /** The account's numbers of each vehicle that has some, as printed, in the order printed. */
  readonly numbers: readonly string[];
  /** What of the total was credited, let go or taken as a discount; the rest that is not open was paid. */
  readonly forgivenMinor: bigint;
  /** What was disputed and has no answer yet; it may be more than is still open. */
  readonly claimedMinor: bigint;
  /** Null while it stands. */
  readonly voidedOn: Day | null;
  readonly voidReason: string | null;
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
        from jsonb_array_elements(${invoices.certificates}) held
        where held ->> 'number' = ${invoices.certificateNumber} limit 1)`,
    })
    .from(invoices)
    .where(and(eq(invoices.tenantId, tx.tenantId), eq(invoices.id, id)));
  return row?.kind ?? null;
}

type CertificateKind = ExemptionCertificate['kind'];

/** Where an invoice stands: something of it is to be paid, is in dispute, all is settled, or it is void. */
export type InvoiceStanding = 'open' | 'disputed' | 'paid' | 'void';

export interface InvoiceFilter {
  readonly accountId: AccountId | null;
  readonly openOnly: boolean;
  readonly standing?: InvoiceStanding | undefined;
  /** Only those that come after this one in the order listed. */
  readonly past: InvoiceId | null;
  readonly limit: number;
  readonly oldestFirst: boolean;
}

/** By day, then by their running number, which is one row of numbers for each kind; newest first or oldest first. */
export async function listInvoices(
  tx: TenantTransaction,
  filter: InvoiceFilter,
): Promise<readonly FoundInvoice[]> {
  const where = and(
    filter.accountId === null ? undefined : eq(invoices.accountId, filter.accountId),
    filter.openOnly ? gt(invoiceBalances.openMinor, 0n) : undefined,
    filter.standing && standing(filter.standing),
    filter.past === null ? undefined : beyond(tx, filter.past, filter.oldestFirst),
  );
  const order = filter.oldestFirst ? asc : desc;
  return selectInvoices(tx, where)
    .orderBy(order(invoices.issuedOn), order(invoices.sequence), order(invoices.id))
    .limit(filter.limit);
}

function beyond(tx: TenantTransaction, past: InvoiceId, oldestFirst: boolean): SQL {
  return sql`(${invoices.issuedOn}, ${invoices.sequence}, ${invoices.id}) ${oldestFirst ? sql`>` : sql`<`}
    (select p.issued_on, p.sequence, p.id from ${invoices} p
      where p.tenant_id = ${tx.tenantId}::uuid and p.id = ${past}::uuid)`;
}

function standing(how: InvoiceStanding): SQL | undefined {
  switch (how) {
    case 'open':
      return gt(invoiceBalances.openMinor, 0n);
    case 'disputed':
      return and(gt(invoiceBalances.openMinor, 0n), sql`${claimedOfInvoice} > 0`);
    case 'paid':
      return and(eq(invoiceBalances.openMinor, 0n), isNull(invoiceVoids.invoiceId));
    case 'void':
      return isNotNull(invoiceVoids.invoiceId);
  }
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
    .leftJoin(
      invoiceVoids,
      and(eq(invoiceVoids.tenantId, invoices.tenantId), eq(invoiceVoids.invoiceId, invoices.id)),
    )
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
  numbers: sql<string[]>`array(select held.numbers from invoice_work_orders held
    where held.tenant_id = ${invoices.tenantId} and held.invoice_id = ${invoices.id} and held.numbers <> ''
    order by held.position)`,
  forgivenMinor: forgivenOfInvoice.mapWith(BigInt),
  claimedMinor: claimedOfInvoice.mapWith(BigInt),
  voidedOn: invoiceVoids.voidedOn,
  voidReason: invoiceVoids.reason,
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
  readonly visitId: VisitId;
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
      visitId: workOrders.visitId,
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

export type InvoicedVisit = Omit<InvoiceVisitRow, 'position'>;

export async function listInvoicedVisits(
  tx: TenantTransaction,
  invoiceId: InvoiceId,
): Promise<readonly InvoicedVisit[]> {
  return tx
    .select({
      visitId: invoiceVisits.visitId,
      workedOn: invoiceVisits.workedOn,
      place: invoiceVisits.place,
      areaCode: invoiceVisits.areaCode,
      certificateKind: invoiceVisits.certificateKind,
      certificateNumber: invoiceVisits.certificateNumber,
    })
    .from(invoiceVisits)
    .where(and(eq(invoiceVisits.tenantId, tx.tenantId), eq(invoiceVisits.invoiceId, invoiceId)))
    .orderBy(asc(invoiceVisits.position));
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

/** The number of the invoice that holds each of these work orders, where one does that was not voided. */
export async function findInvoiceNumbersOf(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly { workOrderId: WorkOrderId; invoiceId: InvoiceId; number: string }[]> {
  return tx
    .select({
      workOrderId: billedWorkOrders.workOrderId,
      invoiceId: invoices.id,
      number: invoices.number,
    })
    .from(billedWorkOrders)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, billedWorkOrders.tenantId), eq(invoices.id, billedWorkOrders.invoiceId)),
    )
    .where(
      and(
        eq(billedWorkOrders.tenantId, tx.tenantId),
        inArray(billedWorkOrders.workOrderId, [...workOrderIds]),
      ),
    );
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
