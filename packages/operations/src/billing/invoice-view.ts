import {
  type FoundInvoice,
  findCertificateKind,
  type InvoicedVehicle,
  type InvoicePhoto,
  listApplicationsOfInvoice,
  listBeforeAndAfter,
  listInvoicedVehicles,
  listInvoiceLines,
  listInvoiceTaxes,
} from '@grainwright/db';
import type {
  AccountId,
  Day,
  Decimal,
  ExemptionCertificate,
  Instant,
  InvoiceId,
  LineId,
  PaymentId,
  PhotoId,
  WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { fromStoredJson } from '../stored-json.ts';
import type { PartySnapshot } from './invoice-document.ts';
import type { PaymentMethod } from './payment-view.ts';

/** Where an invoice stands. Amounts are minor units of `currency`. */
export interface InvoiceRowView {
  readonly id: InvoiceId;
  readonly number: string;
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
  readonly paidMinor: bigint;
  readonly openMinor: bigint;
  readonly overdue: boolean;
}

/** An invoice with everything printed on it. */
export interface InvoiceView extends InvoiceRowView {
  readonly seller: PartySnapshot;
  readonly buyer: PartySnapshot;
  /** Empty where no certificate exempts it. */
  readonly certificateNumber: string;
  readonly certificateKind: ExemptionCertificate['kind'] | null;
  readonly vehicles: readonly InvoiceVehicleView[];
  /** What the visit adds once: after hours, trip, fees. */
  readonly charges: readonly InvoiceLineView[];
  readonly taxes: readonly InvoiceTaxView[];
  readonly settledBy: readonly SettlementView[];
}

export interface InvoiceVehicleView {
  readonly workOrderId: WorkOrderId;
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
  /** The first before and the last after picture of each line, and of the vehicle as a whole. */
  readonly pictures: readonly {
    readonly lineId: LineId | null;
    readonly before: PhotoId | null;
    readonly after: PhotoId | null;
  }[];
}

export interface InvoiceLineView {
  readonly kind: 'repair' | 'minimum' | 'after_hours' | 'trip' | 'fee';
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
  readonly method: PaymentMethod;
  readonly reference: string;
  readonly receivedOn: Day;
  readonly amountMinor: bigint;
}

export function invoiceRowView({ today }: Scope, found: FoundInvoice): InvoiceRowView {
  const { id, number, sequence, accountId, accountName, currency, issuedOn, dueOn, workedOn } = found;
  const { netMinor, taxMinor, totalMinor, openMinor } = found;
  return {
    id,
    number,
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
    paidMinor: totalMinor - openMinor,
    overdue: openMinor > 0n && dueOn < today,
  };
}

export async function invoiceViewOf(scope: Scope, found: FoundInvoice): Promise<InvoiceView> {
  const { tx } = scope;
  const vehicles = await listInvoicedVehicles(tx, found.id);
  const lines = await listInvoiceLines(tx, found.id);
  const taxes = await listInvoiceTaxes(tx, found.id);
  const applications = await listApplicationsOfInvoice(tx, found.id);
  const photos = await listBeforeAndAfter(
    tx,
    vehicles.map((vehicle) => vehicle.workOrderId),
  );
  const ofVehicle = (id: WorkOrderId) => lines.filter((line) => line.workOrderId === id).map(lineView);
  return {
    ...invoiceRowView(scope, found),
    seller: fromStoredJson<PartySnapshot>(found.seller),
    buyer: fromStoredJson<PartySnapshot>(found.buyer),
    certificateNumber: found.certificateNumber,
    certificateKind: found.certificateNumber === '' ? null : await findCertificateKind(tx, found.id),
    vehicles: vehicles.map((vehicle) => vehicleView(vehicle, ofVehicle(vehicle.workOrderId), photos)),
    charges: lines.filter((line) => line.workOrderId === null).map(lineView),
    taxes: taxes.map(({ areaCode, areaName, component, ratePercent, baseMinor, taxMinor }) => ({
      areaCode,
      areaName,
      component,
      ratePercent,
      baseMinor,
      taxMinor,
    })),
    settledBy: applications.map(({ paymentId, method, reference, receivedOn, amountMinor }) => ({
      paymentId,
      method,
      reference,
      receivedOn,
      amountMinor,
    })),
  };
}

function lineView(line: InvoiceLineView): InvoiceLineView {
  const { kind, lineId, code, description, trail, netMinor, laborMinor, materialsMinor } = line;
  return { kind, lineId, code, description, trail, netMinor, laborMinor, materialsMinor };
}

function vehicleView(
  vehicle: InvoicedVehicle,
  lines: readonly InvoiceLineView[],
  photos: readonly InvoicePhoto[],
): InvoiceVehicleView {
  const { workOrderId, workOrderNumber, numbers, subtotalMinor, acceptance } = vehicle;
  const own = photos.filter((photo) => photo.workOrderId === workOrderId);
  const pictured = [...lines.flatMap((line) => line.lineId ?? []), null];
  return {
    workOrderId,
    workOrderNumber,
    vehicle: vehicle.vehicle,
    numbers,
    subtotalMinor,
    acceptance,
    lines,
    pictures: pictured
      .map((lineId) =>
        picturesOf(
          lineId,
          own.filter((photo) => photo.lineId === lineId),
        ),
      )
      .filter((pair) => pair.before !== null || pair.after !== null),
  };
}

function picturesOf(lineId: LineId | null, photos: readonly InvoicePhoto[]) {
  return {
    lineId,
    before: photos.find((photo) => photo.purpose === 'before')?.id ?? null,
    after: photos.findLast((photo) => photo.purpose === 'after')?.id ?? null,
  };
}
