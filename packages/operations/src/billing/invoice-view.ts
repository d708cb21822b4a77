import {
  type AlteredPhoto,
  type FoundInvoice,
  findCertificateKind,
  type HandPrice,
  type InvoicedVehicle,
  type InvoicedVisit,
  type InvoicePhoto,
  type LetGo,
  listAltered,
  listApplicationsOfInvoice,
  listBeforeAndAfter,
  listCreditApplicationsOfInvoice,
  listDisputesOfInvoices,
  listHandPricesOfInvoice,
  listInvoicedVehicles,
  listInvoicedVisits,
  listInvoiceLines,
  listInvoiceTaxes,
  listLetGoOfInvoice,
  listMissingSignatures,
  type MissingSignature,
} from '@grainwright/db';
import {
  type AccountId,
  type CreditNoteId,
  type Day,
  type Decimal,
  type ExemptionCertificate,
  type Instant,
  type InvoiceId,
  type InvoiceLineKind,
  type LineId,
  lesserMinor,
  type MissingSignatureReason,
  type PaymentId,
  type PhotoId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { pictureNotes } from '../covering/picture-notes.ts';
import type { Scope } from '../perform.ts';
import { fromStoredJson } from '../stored-json.ts';
import { type DisputeView, disputeView } from './dispute-view.ts';
import type { PartySnapshot, SellerSnapshot } from './invoice-document.ts';
import type { PaymentMethod } from './payment-view.ts';

/** Where an invoice stands. Amounts are minor units of `currency`. */
export interface InvoiceRowView {
  readonly id: InvoiceId;
  /** A fee, a late charge or a balance from older books ages and is paid like an invoice. */
  readonly kind: FoundInvoice['kind'];
  readonly number: string;
  /** The account's numbers of its vehicles, each in words: “stock number PL-251, RO 48213”. */
  readonly numbers: readonly string[];
  /** Its place in the running numbers; lists go on before it. */
  readonly sequence: bigint;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly currency: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  /** Null where it bills no work: a fee, a balance brought along. */
  readonly workedOn: Day | null;
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** Settled by money. */
  readonly paidMinor: bigint;
  /** Settled without money: credited, written off, or taken as a discount. */
  readonly forgivenMinor: bigint;
  readonly openMinor: bigint;
  /** Of what is open, the part in dispute; the rest is collected as usual. */
  readonly disputedMinor: bigint;
  readonly overdue: boolean;
  /** Null while it stands. A void keeps its number. */
  readonly voidedOn: Day | null;
}

/** An invoice with everything printed on it. */
export interface InvoiceView extends InvoiceRowView {
  /** What it is for, where no line says it; empty elsewhere. */
  readonly subject: string;
  readonly seller: SellerSnapshot;
  readonly buyer: PartySnapshot;
  /** Empty where no certificate exempts it. */
  readonly certificateNumber: string;
  readonly certificateKind: ExemptionCertificate['kind'] | null;
  readonly vehicles: readonly InvoiceVehicleView[];
  /** What the visits add once: after hours, trip, and fees for vehicles that were not there. */
  readonly charges: readonly InvoiceLineView[];
  /** In the order of their days; none on a document that bills no work. */
  readonly visits: readonly InvoicedVisit[];
  readonly taxes: readonly InvoiceTaxView[];
  readonly settledBy: readonly SettlementView[];
  readonly creditedBy: readonly CreditSettlementView[];
  readonly letGo: readonly LetGo[];
  readonly disputes: readonly DisputeView[];
  readonly voidReason: string | null;
  /** Lines that were priced by hand, for the staff; empty for contacts. */
  readonly handPrices: readonly HandPrice[];
}

/** What of a credit note settled the invoice. */
export interface CreditSettlementView {
  readonly creditNoteId: CreditNoteId;
  readonly number: string;
  readonly appliedOn: Day;
  readonly amountMinor: bigint;
}

export interface InvoiceVehicleView {
  readonly workOrderId: WorkOrderId;
  readonly visitId: VisitId;
  readonly workOrderNumber: bigint;
  readonly vehicle: string;
  readonly numbers: string;
  readonly lines: readonly InvoiceLineView[];
  readonly subtotalMinor: bigint;
  /** Who accepted the work; null where nobody signed. */
  readonly acceptance: {
    readonly outcome: 'accepted' | 'accepted_with_remark' | 'not_accepted';
    readonly remark: string;
    readonly signerName: string;
    readonly signerRole: 'vehicle_owner' | 'account_representative';
    readonly acceptedAt: Instant;
  } | null;
  /** Why it went without a signature and who let it; null where one is there, or none was asked for. */
  readonly unsigned: UnsignedView | null;
  /** The first before and the last after picture of each line, and of the vehicle as a whole. */
  readonly pictures: readonly {
    readonly lineId: LineId | null;
    readonly before: PhotoId | null;
    readonly after: PhotoId | null;
  }[];
  /** Which of its pictures are covered or gone, in sentences. */
  readonly pictureNotes: readonly string[];
}

export interface UnsignedView {
  readonly why: MissingSignatureReason;
  readonly reason: string;
  readonly witness: string;
  readonly releasedBy: string;
}

export interface InvoiceLineView {
  /** The visit it belongs to; null on an invoice of only one. */
  readonly visitId: VisitId | null;
  readonly kind: InvoiceLineKind;
  readonly lineId: LineId | null;
  readonly code: string;
  readonly description: string;
  readonly trail: string;
  readonly netMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
}

export interface InvoiceTaxView {
  readonly areaCode: string;
  readonly areaName: string;
  readonly component: string;
  readonly ratePercent: Decimal;
  readonly baseMinor: bigint;
  readonly taxMinor: bigint;
}

/** A payment, or a part of one, that settled the invoice or a part of it. */
export interface SettlementView {
  readonly paymentId: PaymentId;
  /** A deposit was there before the invoice: what of it settles the invoice was prepaid. */
  readonly purpose: 'payment' | 'deposit';
  readonly method: PaymentMethod;
  readonly reference: string;
  readonly receivedOn: Day;
  readonly amountMinor: bigint;
}

export function invoiceRowView({ today }: Scope, found: FoundInvoice): InvoiceRowView {
  const { id, kind, number, numbers, sequence, accountId, accountName, currency } = found;
  const { issuedOn, dueOn, workedOn } = found;
  const { netMinor, taxMinor, totalMinor, openMinor, forgivenMinor, claimedMinor, voidedOn } = found;
  return {
    id,
    kind,
    number,
    numbers,
    sequence,
    accountId,
    accountName,
    currency,
    issuedOn,
    dueOn,
    workedOn,
    netMinor,
    taxMinor,
    totalMinor,
    openMinor,
    paidMinor: voidedOn === null ? totalMinor - openMinor - forgivenMinor : 0n,
    forgivenMinor,
    disputedMinor: lesserMinor(claimedMinor, openMinor),
    overdue: openMinor > 0n && dueOn < today,
    voidedOn,
  };
}

export async function invoiceViewOf(scope: Scope, found: FoundInvoice): Promise<InvoiceView> {
  const { tx } = scope;
  const vehicles = await listInvoicedVehicles(tx, found.id);
  const visits = await listInvoicedVisits(tx, found.id);
  const lines = await listInvoiceLines(tx, found.id);
  const taxes = await listInvoiceTaxes(tx, found.id);
  const applications = await listApplicationsOfInvoice(tx, found.id);
  const credits = await listCreditApplicationsOfInvoice(tx, found.id);
  const workOrderIds = vehicles.map((vehicle) => vehicle.workOrderId);
  const shown = {
    photos: await listBeforeAndAfter(tx, workOrderIds),
    altered: await listAltered(tx, workOrderIds),
    unsigned: await listMissingSignatures(tx, workOrderIds),
  };
  const ofVehicle = (id: WorkOrderId) => lines.filter((line) => line.workOrderId === id).map(lineView);
  const vehicleLines = new Set(vehicles.map((vehicle) => vehicle.workOrderId));
  return {
    ...invoiceRowView(scope, found),
    subject: found.subject,
    seller: { ...noNote, ...fromStoredJson<Partial<SellerSnapshot> & PartySnapshot>(found.seller) },
    buyer: fromStoredJson<PartySnapshot>(found.buyer),
    certificateNumber: found.certificateNumber,
    certificateKind: found.certificateNumber === '' ? null : await findCertificateKind(tx, found.id),
    vehicles: vehicles.map((vehicle) => vehicleView(vehicle, ofVehicle(vehicle.workOrderId), shown)),
    charges: lines
      .filter((line) => line.workOrderId === null || !vehicleLines.has(line.workOrderId))
      .map(lineView),
    visits,
    taxes: taxes.map(({ areaCode, areaName, component, ratePercent, baseMinor, taxMinor }) => ({
      areaCode,
      areaName,
      component,
      ratePercent,
      baseMinor,
      taxMinor,
    })),
    settledBy: applications.map(({ paymentId, purpose, method, reference, receivedOn, amountMinor }) => ({
      paymentId,
      purpose,
      method,
      reference,
      receivedOn,
      amountMinor,
    })),
    creditedBy: credits.map(({ creditNoteId, creditNoteNumber, appliedOn, amountMinor }) => ({
      creditNoteId,
      number: creditNoteNumber,
      appliedOn,
      amountMinor,
    })),
    letGo: await listLetGoOfInvoice(tx, found.id),
    disputes: (await listDisputesOfInvoices(tx, [found.id])).map((each) => disputeView(scope, each)),
    voidReason: found.voidReason,
    handPrices: scope.actor.accountId === null ? await listHandPricesOfInvoice(tx, found.id) : [],
  };
}

/** Older invoices were issued before the business's note was kept with them. */
const noNote = { note: '' };

function lineView(line: InvoiceLineView): InvoiceLineView {
  const { visitId, kind, lineId, code, description, trail, netMinor, laborMinor, materialsMinor } = line;
  return { visitId, kind, lineId, code, description, trail, netMinor, laborMinor, materialsMinor };
}

interface ShownOfVehicles {
  readonly photos: readonly InvoicePhoto[];
  readonly altered: readonly AlteredPhoto[];
  readonly unsigned: readonly MissingSignature[];
}

function vehicleView(
  vehicle: InvoicedVehicle,
  lines: readonly InvoiceLineView[],
  { photos, altered, unsigned }: ShownOfVehicles,
): InvoiceVehicleView {
  const { workOrderId, visitId, workOrderNumber, numbers, subtotalMinor, acceptance } = vehicle;
  const own = photos.filter((photo) => photo.workOrderId === workOrderId);
  const pictured = [...lines.flatMap((line) => line.lineId ?? []), null];
  return {
    workOrderId,
    visitId,
    workOrderNumber,
    vehicle: vehicle.vehicle,
    numbers,
    subtotalMinor,
    acceptance,
    unsigned:
      acceptance === null ? unsignedView(unsigned.filter((each) => each.workOrderId === workOrderId)) : null,
    lines,
    pictures: pictured
      .map((lineId) =>
        picturesOf(
          lineId,
          own.filter((photo) => photo.lineId === lineId),
        ),
      )
      .filter((pair) => pair.before !== null || pair.after !== null),
    pictureNotes: pictureNotes(
      altered.filter((photo) => photo.workOrderId === workOrderId),
      (lineId) => lines.find((line) => line.lineId === lineId)?.description ?? vehicle.vehicle,
    ),
  };
}

/** The newest time that nobody signed and the work was let go. */
function unsignedView(rows: readonly MissingSignature[]): UnsignedView | null {
  const row = rows.find((each) => each.releasedAt !== null);
  if (row === undefined) return null;
  return { why: row.why, reason: row.reason, witness: row.witness, releasedBy: row.releasedBy ?? '' };
}

function picturesOf(lineId: LineId | null, photos: readonly InvoicePhoto[]) {
  return {
    lineId,
    before: photos.find((photo) => photo.purpose === 'before')?.id ?? null,
    after: photos.findLast((photo) => photo.purpose === 'after')?.id ?? null,
  };
}
