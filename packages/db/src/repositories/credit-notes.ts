import type {
  AccountId,
  ApplicationId,
  CreditNoteId,
  Day,
  InvoiceId,
  JsonValue,
  LineId,
} from '@grainwright/domain';
import { and, asc, desc, eq, gte, inArray, lt, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoices } from '../schema/billing.ts';
import {
  creditNoteApplications,
  creditNoteBalances,
  creditNoteLines,
  creditNotes,
  creditNoteTaxBases,
  creditNoteTaxes,
} from '../schema/credit-notes.ts';
import { decisions, estimateVersions, workOrderLines, workOrders } from '../schema/work-orders.ts';

type Own<Row> = Omit<Row, 'tenantId' | 'creditNoteId'>;
export type CreditNoteRow = Omit<typeof creditNotes.$inferSelect, 'tenantId'>;
export type CreditNoteLineRow = Own<typeof creditNoteLines.$inferSelect>;
export type CreditNoteTaxRow = Own<typeof creditNoteTaxes.$inferSelect>;
export type CreditApplicationRow = Omit<typeof creditNoteApplications.$inferSelect, 'tenantId'>;

export interface NewCreditNote {
  readonly note: CreditNoteRow;
  readonly lines: readonly CreditNoteLineRow[];
  readonly taxes: readonly CreditNoteTaxRow[];
  readonly taxBases: readonly Own<typeof creditNoteTaxBases.$inferSelect>[];
}

/** Writes a credit note with everything that stands on it; none of it is applied. False when the id is taken. */
export async function insertCreditNote(tx: TenantTransaction, document: NewCreditNote): Promise<boolean> {
  const { note } = document;
  const key = { tenantId: tx.tenantId, creditNoteId: note.id };
  const inserted = await tx
    .insert(creditNotes)
    .values({ tenantId: tx.tenantId, ...note })
    .onConflictDoNothing({ target: [creditNotes.tenantId, creditNotes.id] })
    .returning({ id: creditNotes.id });
  if (inserted.length === 0) return false;
  if (document.lines.length > 0)
    await tx.insert(creditNoteLines).values(document.lines.map((line) => ({ ...key, ...line })));
  if (document.taxes.length > 0)
    await tx.insert(creditNoteTaxes).values(document.taxes.map((tax) => ({ ...key, ...tax })));
  await tx.insert(creditNoteTaxBases).values(document.taxBases.map((basis) => ({ ...key, ...basis })));
  await tx.insert(creditNoteBalances).values({ ...key, unappliedMinor: note.totalMinor });
  return true;
}

/**
 * What the next credit of an invoice is computed against: what the newest credit note left of it, or the basis it was
 * issued with. Null for a document that bills no work. Lock what is open of the invoice first.
 */
export async function findRemainingBasis(
  tx: TenantTransaction,
  invoiceId: InvoiceId,
): Promise<JsonValue | null> {
  const [newest] = await tx
    .select({ remaining: creditNotes.remaining })
    .from(creditNotes)
    .where(and(eq(creditNotes.tenantId, tx.tenantId), eq(creditNotes.invoiceId, invoiceId)))
    .orderBy(desc(creditNotes.sequence))
    .limit(1);
  if (newest !== undefined) return newest.remaining;
  const [issued] = await tx
    .select({ basis: invoices.basis })
    .from(invoices)
    .where(and(eq(invoices.tenantId, tx.tenantId), eq(invoices.id, invoiceId)));
  return issued?.basis ?? null;
}

/** A credit note without what it leaves of its invoice. */
export interface FoundCreditNote extends Omit<CreditNoteRow, 'remaining'> {
  readonly accountName: string;
  readonly invoiceNumber: string;
  readonly unappliedMinor: bigint;
}

export async function findCreditNote(
  tx: TenantTransaction,
  id: CreditNoteId,
): Promise<FoundCreditNote | null> {
  const [row] = await selectCreditNotes(tx, eq(creditNotes.id, id)).limit(1);
  return row ?? null;
}

export interface CreditNoteFilter {
  readonly accountId: AccountId | null;
  readonly invoiceId: InvoiceId | null;
  /** Only those with a smaller running number. */
  readonly past: bigint | null;
  readonly limit: number;
}

/** By their running number, newest first. */
export async function listCreditNotes(
  tx: TenantTransaction,
  filter: CreditNoteFilter,
): Promise<readonly FoundCreditNote[]> {
  const where = and(
    filter.accountId === null ? undefined : eq(creditNotes.accountId, filter.accountId),
    filter.invoiceId === null ? undefined : eq(creditNotes.invoiceId, filter.invoiceId),
    filter.past === null ? undefined : lt(creditNotes.sequence, filter.past),
  );
  return selectCreditNotes(tx, where).orderBy(desc(creditNotes.sequence)).limit(filter.limit);
}

/** What all credit notes on an invoice come to, and how much of that settles nothing yet. */
export async function sumCreditedOfInvoice(
  tx: TenantTransaction,
  id: InvoiceId,
): Promise<{ readonly totalMinor: bigint; readonly unappliedMinor: bigint }> {
  const [row] = await tx
    .select({
      total: sql<string>`coalesce(sum(${creditNotes.totalMinor}), 0)`,
      unapplied: sql<string>`coalesce(sum(${creditNoteBalances.unappliedMinor}), 0)`,
    })
    .from(creditNotes)
    .innerJoin(
      creditNoteBalances,
      and(
        eq(creditNoteBalances.tenantId, creditNotes.tenantId),
        eq(creditNoteBalances.creditNoteId, creditNotes.id),
      ),
    )
    .where(and(eq(creditNotes.tenantId, tx.tenantId), eq(creditNotes.invoiceId, id)));
  return { totalMinor: BigInt(row?.total ?? 0), unappliedMinor: BigInt(row?.unapplied ?? 0) };
}

function selectCreditNotes(tx: TenantTransaction, where: SQL | undefined) {
  return tx
    .select({
      id: creditNotes.id,
      sequence: creditNotes.sequence,
      number: creditNotes.number,
      accountId: creditNotes.accountId,
      accountName: accounts.name,
      invoiceId: creditNotes.invoiceId,
      invoiceNumber: invoices.number,
      issuedOn: creditNotes.issuedOn,
      currency: creditNotes.currency,
      reason: creditNotes.reason,
      seller: creditNotes.seller,
      buyer: creditNotes.buyer,
      asked: creditNotes.asked,
      netMinor: creditNotes.netMinor,
      taxMinor: creditNotes.taxMinor,
      totalMinor: creditNotes.totalMinor,
      issuedBy: creditNotes.issuedBy,
      issuedAt: creditNotes.issuedAt,
      unappliedMinor: creditNoteBalances.unappliedMinor,
    })
    .from(creditNotes)
    .innerJoin(
      creditNoteBalances,
      and(
        eq(creditNoteBalances.tenantId, creditNotes.tenantId),
        eq(creditNoteBalances.creditNoteId, creditNotes.id),
      ),
    )
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, creditNotes.tenantId), eq(invoices.id, creditNotes.invoiceId)),
    )
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, creditNotes.tenantId), eq(accounts.id, creditNotes.accountId)),
    )
    .where(and(eq(creditNotes.tenantId, tx.tenantId), where));
}

export async function listCreditNoteLines(
  tx: TenantTransaction,
  id: CreditNoteId,
): Promise<readonly CreditNoteLineRow[]> {
  return tx
    .select()
    .from(creditNoteLines)
    .where(and(eq(creditNoteLines.tenantId, tx.tenantId), eq(creditNoteLines.creditNoteId, id)))
    .orderBy(asc(creditNoteLines.position));
}

export async function listCreditNoteTaxes(
  tx: TenantTransaction,
  id: CreditNoteId,
): Promise<readonly CreditNoteTaxRow[]> {
  return tx
    .select()
    .from(creditNoteTaxes)
    .where(and(eq(creditNoteTaxes.tenantId, tx.tenantId), eq(creditNoteTaxes.creditNoteId, id)))
    .orderBy(asc(creditNoteTaxes.position));
}

/** The numbers of credit notes, for documents that name them. */
export async function listCreditNoteNumbers(
  tx: TenantTransaction,
  ids: readonly CreditNoteId[],
): Promise<readonly { readonly id: CreditNoteId; readonly number: string }[]> {
  if (ids.length === 0) return [];
  return tx
    .select({ id: creditNotes.id, number: creditNotes.number })
    .from(creditNotes)
    .where(and(eq(creditNotes.tenantId, tx.tenantId), inArray(creditNotes.id, [...ids])));
}

/** What of a credit note settled an invoice. */
export interface FoundCreditApplication extends Omit<CreditApplicationRow, 'appliedBy'> {
  readonly creditNoteNumber: string;
  readonly invoiceNumber: string;
}

export function listApplicationsOfCreditNote(
  tx: TenantTransaction,
  id: CreditNoteId,
): Promise<readonly FoundCreditApplication[]> {
  return listCreditApplications(tx, eq(creditNoteApplications.creditNoteId, id));
}

export function listCreditApplicationsOfInvoice(
  tx: TenantTransaction,
  id: InvoiceId,
): Promise<readonly FoundCreditApplication[]> {
  return listCreditApplications(tx, eq(creditNoteApplications.invoiceId, id));
}

export async function findCreditApplication(
  tx: TenantTransaction,
  id: ApplicationId,
): Promise<FoundCreditApplication | null> {
  const [row] = await listCreditApplications(tx, eq(creditNoteApplications.id, id));
  return row ?? null;
}

async function listCreditApplications(
  tx: TenantTransaction,
  where: SQL,
): Promise<readonly FoundCreditApplication[]> {
  return tx
    .select({
      id: creditNoteApplications.id,
      accountId: creditNoteApplications.accountId,
      creditNoteId: creditNoteApplications.creditNoteId,
      creditNoteNumber: creditNotes.number,
      invoiceId: creditNoteApplications.invoiceId,
      invoiceNumber: invoices.number,
      amountMinor: creditNoteApplications.amountMinor,
      appliedOn: creditNoteApplications.appliedOn,
      appliedAt: creditNoteApplications.appliedAt,
    })
    .from(creditNoteApplications)
    .innerJoin(
      creditNotes,
      and(
        eq(creditNotes.tenantId, creditNoteApplications.tenantId),
        eq(creditNotes.id, creditNoteApplications.creditNoteId),
      ),
    )
    .innerJoin(
      invoices,
      and(
        eq(invoices.tenantId, creditNoteApplications.tenantId),
        eq(invoices.id, creditNoteApplications.invoiceId),
      ),
    )
    .where(and(eq(creditNoteApplications.tenantId, tx.tenantId), where))
    .orderBy(asc(creditNoteApplications.appliedAt), asc(creditNotes.sequence));
}

/** Locks what is unapplied of a credit note; lock its invoices first. */
export async function lockCreditNoteBalance(tx: TenantTransaction, id: CreditNoteId): Promise<bigint> {
  const [row] = await tx
    .select({ unappliedMinor: creditNoteBalances.unappliedMinor })
    .from(creditNoteBalances)
    .where(and(eq(creditNoteBalances.tenantId, tx.tenantId), eq(creditNoteBalances.creditNoteId, id)))
    .for('update');
  if (row === undefined) throw new Error('a credit note without its balance');
  return row.unappliedMinor;
}

/** Takes an amount off what is unapplied of a credit note; null when less than that is left, and nothing happens. */
export async function reduceCreditNoteBalance(
  tx: TenantTransaction,
  id: CreditNoteId,
  amountMinor: bigint,
): Promise<bigint | null> {
  const [row] = await tx
    .update(creditNoteBalances)
    .set({ unappliedMinor: sql`${creditNoteBalances.unappliedMinor} - ${amountMinor.toString()}::bigint` })
    .where(
      and(
        eq(creditNoteBalances.tenantId, tx.tenantId),
        eq(creditNoteBalances.creditNoteId, id),
        gte(creditNoteBalances.unappliedMinor, amountMinor),
      ),
    )
    .returning({ unappliedMinor: creditNoteBalances.unappliedMinor });
  return row?.unappliedMinor ?? null;
}

/** False when the id is taken. */
export async function insertCreditApplication(
  tx: TenantTransaction,
  application: CreditApplicationRow,
): Promise<boolean> {
  const inserted = await tx
    .insert(creditNoteApplications)
    .values({ tenantId: tx.tenantId, ...application })
    .onConflictDoNothing({ target: [creditNoteApplications.tenantId, creditNoteApplications.id] })
    .returning({ id: creditNoteApplications.id });
  return inserted.length === 1;
}

/** A line as it was written up, and the day whose rates priced what was approved of it. */
export interface LineToReprice {
  readonly id: LineId;
  readonly part: string;
  /** As settled; empty where it is not known. */
  readonly material: string;
  readonly family: string;
  readonly factorCode: string | null;
  readonly rateDay: Day;
}

export async function listLinesToReprice(
  tx: TenantTransaction,
  ids: readonly LineId[],
): Promise<readonly LineToReprice[]> {
  if (ids.length === 0) return [];
  return tx
    .select({
      id: workOrderLines.id,
      part: workOrderLines.part,
      material: workOrderLines.material,
      family: workOrderLines.family,
      factorCode: workOrderLines.factorCode,
      rateDay: estimateVersions.rateDay,
    })
    .from(workOrderLines)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, workOrderLines.tenantId), eq(workOrders.id, workOrderLines.workOrderId)),
    )
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .innerJoin(
      estimateVersions,
      and(eq(estimateVersions.tenantId, decisions.tenantId), eq(estimateVersions.id, decisions.versionId)),
    )
    .where(and(eq(workOrderLines.tenantId, tx.tenantId), inArray(workOrderLines.id, [...ids])));
}
