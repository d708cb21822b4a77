import type {
  AcceptanceId,
  AccessLinkId,
  CreditNoteId,
  MissingSignatureId,
  PersonId,
  VersionId,
  VisitSignatureId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, eq, inArray } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { accounts, businesses, people } from '../schema/accounts.ts';
import { invoices } from '../schema/billing.ts';
import { creditNoteLines, creditNotes } from '../schema/credit-notes.ts';
import {
  acceptanceReleases,
  acceptances,
  missingSignatures,
  photos,
  visitSignatures,
} from '../schema/evidence.ts';
import { acceptanceRequests } from '../schema/links.ts';
import { decisions, estimateVersions, vehicles, workOrders } from '../schema/work-orders.ts';

/** What is on record of the things that get seals, as the worker reads it. */

export async function findWorkToSeal(tx: TenantTransaction, id: WorkOrderId) {
  const [row] = await tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      reworkOfId: workOrders.reworkOfId,
      reworkReason: workOrders.reworkReason,
      writtenUpAt: workOrders.writtenUpAt,
      accountId: accounts.id,
      accountName: accounts.name,
      businessName: businesses.name,
      modelYear: vehicles.modelYear,
      make: vehicles.make,
      model: vehicles.model,
      color: vehicles.color,
      vin: vehicles.vin,
      lastEight: vehicles.lastEight,
    })
    .from(workOrders)
    .innerJoin(businesses, eq(businesses.tenantId, workOrders.tenantId))
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  return row ?? null;
}

export type WorkToSeal = NonNullable<Awaited<ReturnType<typeof findWorkToSeal>>>;

/** Every photo of a work order, in the order received. */
export function listPhotosToSeal(tx: TenantTransaction, workOrderId: WorkOrderId) {
  return tx
    .select({
      id: photos.id,
      lineId: photos.lineId,
      purpose: photos.purpose,
      sha256: photos.sha256,
      bareSha256: photos.bareSha256,
      takenAtLocal: photos.takenAtLocal,
      capturedAt: photos.capturedAt,
      receivedAt: photos.receivedAt,
    })
    .from(photos)
    .where(and(eq(photos.tenantId, tx.tenantId), eq(photos.workOrderId, workOrderId)))
    .orderBy(asc(photos.receivedAt), asc(photos.id));
}

export type PhotoToSeal = Awaited<ReturnType<typeof listPhotosToSeal>>[number];

export async function findVersionToSeal(tx: TenantTransaction, id: VersionId) {
  const [row] = await tx
    .select({
      id: estimateVersions.id,
      number: estimateVersions.version,
      currency: estimateVersions.currency,
      content: estimateVersions.content,
      digest: estimateVersions.digest,
    })
    .from(estimateVersions)
    .where(and(eq(estimateVersions.tenantId, tx.tenantId), eq(estimateVersions.id, id)));
  return row ?? null;
}

/** The answer that a work order stands on, and the version that it is to; null while there is none. */
export async function findApprovedVersion(tx: TenantTransaction, workOrderId: WorkOrderId) {
  const [row] = await tx
    .select({
      decisionId: decisions.id,
      versionId: estimateVersions.id,
      number: estimateVersions.version,
      digest: estimateVersions.digest,
    })
    .from(workOrders)
    .innerJoin(
      decisions,
      and(eq(decisions.tenantId, workOrders.tenantId), eq(decisions.id, workOrders.decisionId)),
    )
    .innerJoin(
      estimateVersions,
      and(eq(estimateVersions.tenantId, decisions.tenantId), eq(estimateVersions.id, decisions.versionId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, workOrderId)));
  return row ?? null;
}

export async function findAcceptanceToSeal(tx: TenantTransaction, id: AcceptanceId) {
  const [row] = await tx
    .select({ acceptance: acceptances, takenByName: people.name })
    .from(acceptances)
    .leftJoin(people, and(eq(people.tenantId, acceptances.tenantId), eq(people.id, acceptances.takenBy)))
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.id, id)));
  return row ?? null;
}

export async function findVisitShown(tx: TenantTransaction, id: VisitSignatureId) {
  const [row] = await tx
    .select({
      id: visitSignatures.id,
      shown: visitSignatures.shown,
      shownDigest: visitSignatures.shownDigest,
    })
    .from(visitSignatures)
    .where(and(eq(visitSignatures.tenantId, tx.tenantId), eq(visitSignatures.id, id)));
  return row ?? null;
}

/** Where the link went that an owner answered by. */
export async function findOwnersContact(tx: TenantTransaction, linkId: AccessLinkId) {
  const [row] = await tx
    .select({ phone: acceptanceRequests.phone, email: acceptanceRequests.email })
    .from(acceptanceRequests)
    .where(and(eq(acceptanceRequests.tenantId, tx.tenantId), eq(acceptanceRequests.linkId, linkId)));
  return row ?? null;
}

export async function findReleaseToSeal(tx: TenantTransaction, id: MissingSignatureId) {
  const [recorders, releasers] = [alias(people, 'recorders'), alias(people, 'releasers')];
  const [row] = await tx
    .select({
      missing: missingSignatures,
      release: acceptanceReleases,
      recordedByName: recorders.name,
      releasedByName: releasers.name,
    })
    .from(acceptanceReleases)
    .innerJoin(
      missingSignatures,
      and(
        eq(missingSignatures.tenantId, acceptanceReleases.tenantId),
        eq(missingSignatures.id, acceptanceReleases.missingSignatureId),
      ),
    )
    .innerJoin(
      recorders,
      and(eq(recorders.tenantId, missingSignatures.tenantId), eq(recorders.id, missingSignatures.recordedBy)),
    )
    .innerJoin(
      releasers,
      and(
        eq(releasers.tenantId, acceptanceReleases.tenantId),
        eq(releasers.id, acceptanceReleases.releasedBy),
      ),
    )
    .where(and(eq(acceptanceReleases.tenantId, tx.tenantId), eq(acceptanceReleases.missingSignatureId, id)));
  return row ?? null;
}

export async function findCreditToSeal(tx: TenantTransaction, id: CreditNoteId) {
  const [row] = await tx
    .select({
      id: creditNotes.id,
      number: creditNotes.number,
      issuedOn: creditNotes.issuedOn,
      issuedAt: creditNotes.issuedAt,
      reason: creditNotes.reason,
      currency: creditNotes.currency,
      netMinor: creditNotes.netMinor,
      taxMinor: creditNotes.taxMinor,
      totalMinor: creditNotes.totalMinor,
      accountId: accounts.id,
      accountName: accounts.name,
      businessName: businesses.name,
      invoiceId: invoices.id,
      invoiceNumber: invoices.number,
      invoiceTotalMinor: invoices.totalMinor,
    })
    .from(creditNotes)
    .innerJoin(businesses, eq(businesses.tenantId, creditNotes.tenantId))
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, creditNotes.tenantId), eq(accounts.id, creditNotes.accountId)),
    )
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, creditNotes.tenantId), eq(invoices.id, creditNotes.invoiceId)),
    )
    .where(and(eq(creditNotes.tenantId, tx.tenantId), eq(creditNotes.id, id)));
  if (row === undefined) return null;
  const lines = await tx
    .select({
      kind: creditNoteLines.kind,
      workOrderId: creditNoteLines.workOrderId,
      lineId: creditNoteLines.lineId,
      description: creditNoteLines.description,
      netMinor: creditNoteLines.netMinor,
    })
    .from(creditNoteLines)
    .where(and(eq(creditNoteLines.tenantId, tx.tenantId), eq(creditNoteLines.creditNoteId, id)))
    .orderBy(asc(creditNoteLines.position));
  return { ...row, lines };
}

/** Of these people, by id: how they are called. */
export async function listNamesOf(
  tx: TenantTransaction,
  ids: readonly PersonId[],
): Promise<ReadonlyMap<PersonId, string>> {
  if (ids.length === 0) return new Map();
  const rows = await tx
    .select({ id: people.id, name: people.name })
    .from(people)
    .where(and(eq(people.tenantId, tx.tenantId), inArray(people.id, [...ids])));
  return new Map(rows.map(({ id, name }) => [id, name]));
}

/** The number of a work order. */
export async function findWorkOrderNumber(tx: TenantTransaction, id: WorkOrderId): Promise<bigint | null> {
  const [row] = await tx
    .select({ number: workOrders.number })
    .from(workOrders)
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  return row?.number ?? null;
}
