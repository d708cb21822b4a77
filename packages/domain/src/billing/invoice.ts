import type { Day } from '../dates.ts';
import type { LineId, VisitId, WorkOrderId } from '../ids.ts';
import { sumMinor } from '../money/money.ts';
import type { EstimateLine, VehiclePrice } from '../pricing/price-vehicle.ts';
import type { VisitMinimum } from '../pricing/price-visit.ts';
import type { Surcharge } from '../pricing/surcharge.ts';
import type { TripCharge } from '../pricing/trip.ts';
import {
  type ByClass,
  certificateOn,
  combinedRate,
  type SalesTax,
  salesTax,
  type TaxItem,
} from '../tax/sales-tax.ts';
import type { ExemptionCertificate, TaxRounding, TaxSetup } from '../tax/tax-setup.ts';
import { type InvoiceTotals, type TaxGroup, totalInvoice } from './totals.ts';

/** Everything an invoice is computed from. Kept with it, so that a credit can be computed against it. */
export interface InvoiceBasis {
  readonly visits: readonly VisitToBill[];
  /** Of the account; the date of work of each visit decides which one counts. */
  readonly certificates: readonly ExemptionCertificate[];
  readonly taxRounding: TaxRounding;
  readonly prepaidMinor: bigint;
}

export interface VisitToBill {
  readonly visitId: VisitId;
  readonly dateOfWork: Day;
  readonly taxSetup: TaxSetup;
  readonly vehicles: readonly VehicleToBill[];
  readonly afterHours: Surcharge | null;
  readonly rush: Surcharge | null;
  /** What lifts the visit's repairs to its minimum. */
  readonly minimum: VisitMinimum | null;
  readonly trip: TripCharge | null;
  readonly fees: readonly FeeToBill[];
}

export interface VehicleToBill {
  readonly workOrderId: WorkOrderId;
  /** As the account knows the vehicle, such as its stock number. */
  readonly label: string;
  readonly price: VehiclePrice;
}

/** A charge of its own, such as for a vehicle that was not there. */
export interface FeeToBill {
  readonly workOrderId: WorkOrderId | null;
  readonly label: string;
  readonly amountMinor: bigint;
}

/** What an invoice charges for: of a vehicle its repairs and what lifts them, of a visit the rest. */
export const invoiceLineKinds = [
  'repair',
  'minimum',
  'after_hours',
  'rush',
  'visit_minimum',
  'trip',
  'fee',
] as const;
export type InvoiceLineKind = (typeof invoiceLineKinds)[number];

/** A line of an invoice. Its net is the sum over its classes, in minor units. */
export interface InvoiceLine {
  readonly kind: InvoiceLineKind;
  readonly lineId: LineId | null;
  readonly workOrderId: WorkOrderId | null;
  readonly code: string;
  readonly label: string;
  /** How the amount came about, in words. */
  readonly trail: string;
  readonly netMinor: bigint;
  readonly byClass: ByClass;
}

export interface BilledVehicle {
  readonly workOrderId: WorkOrderId;
  readonly label: string;
  readonly lines: readonly InvoiceLine[];
  /** Lines and minimum, before after-hours, trip and tax. */
  readonly subtotalMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
}

export interface BilledVisit {
  readonly visitId: VisitId;
  readonly dateOfWork: Day;
  readonly areaCode: string;
  readonly certificate: ExemptionCertificate | null;
  readonly vehicles: readonly BilledVehicle[];
  /** After-hours, rush, what lifts the visit to its minimum, trip, fees. */
  readonly charges: readonly InvoiceLine[];
}

export interface Invoice {
  readonly visits: readonly BilledVisit[];
  readonly tax: SalesTax;
  readonly totals: InvoiceTotals;
}

/**
 * Makes an invoice of one or more visits: lines by vehicle with a subtotal each, the visit's charges once, tax
 * by class and area, and the totals of EN 16931 (BR-CO-10 to BR-CO-16).
 */
export function buildInvoice(basis: InvoiceBasis): Invoice {
  const visits = basis.visits.map((visit) => billVisit(visit, basis.certificates));
  const items = basis.visits.flatMap((visit, index) => taxItems(visit.taxSetup, visits[index]));
  const tax = salesTax(items, basis.taxRounding);
  const totals = totalInvoice({
    lineNetsMinor: invoiceLines({ visits }).map((line) => line.netMinor),
    allowancesMinor: [],
    chargesMinor: [],
    taxGroups: taxGroups(tax, basis.taxRounding, items.length),
    prepaidMinor: basis.prepaidMinor,
    roundingMinor: 0n,
  });
  return { visits, tax, totals };
}

/** All lines of an invoice in the order printed. */
export function invoiceLines(invoice: Pick<Invoice, 'visits'>): readonly InvoiceLine[] {
  return invoice.visits.flatMap((visit) => [
    ...visit.vehicles.flatMap((vehicle) => vehicle.lines),
    ...visit.charges,
  ]);
}

/**
 * The tax of each area as a group of EN 16931. Where the components of a rate are rounded apart, or items are,
 * the tax is a sum of roundings, and may differ from base × rate by a cent for each one after the first.
 */
export function taxGroups(tax: SalesTax, rounding: TaxRounding, itemCount: number): readonly TaxGroup[] {
  return tax.areas.map((area) => {
    const roundings =
      (rounding.components === 'each' ? area.components.length : 1) *
      (rounding.basis === 'item' ? itemCount : 1);
    return {
      taxableMinor: area.taxableMinor,
      ratePercent: combinedRate(area.components),
      taxMinor: area.taxMinor,
      slackMinor: BigInt(Math.max(0, roundings - 1)),
    };
  });
}

function billVisit(visit: VisitToBill, certificates: readonly ExemptionCertificate[]): BilledVisit {
  return {
    visitId: visit.visitId,
    dateOfWork: visit.dateOfWork,
    areaCode: visit.taxSetup.areaCode,
    certificate: certificateOn(certificates, visit.dateOfWork),
    vehicles: visit.vehicles.map(billVehicle),
    charges: [...visitLines(visit), ...visit.fees.map(feeLine)],
  };
}

function billVehicle({ workOrderId, label, price }: VehicleToBill): BilledVehicle {
  const minimum: readonly InvoiceLine[] =
    price.minimum === null
      ? []
      : [
          {
            kind: 'minimum',
            lineId: null,
            workOrderId,
            code: price.minimum.code,
            label: 'Vehicle minimum',
            trail: price.minimum.trail,
            netMinor: price.minimum.netMinor,
            byClass: onlyClass('labor', price.minimum.netMinor),
          },
        ];
  const lines = [...price.lines.map((line) => repairLine(line, workOrderId)), ...minimum];
  return {
    workOrderId,
    label,
    lines,
    subtotalMinor: sumMinor(lines.map((line) => line.netMinor)),
    laborMinor: sumMinor(lines.map((line) => line.byClass.labor)),
    materialsMinor: sumMinor(lines.map((line) => line.byClass.materials)),
  };
}

function repairLine(line: EstimateLine, workOrderId: WorkOrderId): InvoiceLine {
  return {
    kind: 'repair',
    lineId: line.lineId,
    workOrderId,
    code: line.code,
    label: line.repair,
    trail: line.trail,
    netMinor: line.netMinor,
    byClass: { labor: line.laborMinor, materials: line.materialsMinor, trip: 0n, fee: 0n },
  };
}

/** What the visit adds once, in the order printed. A trip that is waived and has no miles to add is not. */
function visitLines({ afterHours, rush, minimum, trip }: VisitToBill): readonly InvoiceLine[] {
  return [
    ...visitLine('after_hours', 'AFTER', 'After hours', 'labor', afterHours),
    ...visitLine('rush', 'RUSH', 'Rush', 'labor', rush),
    ...visitLine('visit_minimum', 'VMIN', 'Visit minimum', 'labor', minimum),
    ...visitLine('trip', 'TRIP', 'Trip', 'trip', trip?.amountMinor === 0n ? null : trip),
  ];
}

function visitLine(
  kind: InvoiceLineKind,
  code: string,
  label: string,
  lineClass: keyof ByClass,
  charge: { readonly amountMinor: bigint; readonly trail: string } | null,
): readonly InvoiceLine[] {
  if (charge === null) return [];
  const { amountMinor: netMinor, trail } = charge;
  const byClass = onlyClass(lineClass, netMinor);
  return [{ kind, lineId: null, workOrderId: null, code, label, trail, netMinor, byClass }];
}

function feeLine(fee: FeeToBill): InvoiceLine {
  return {
    kind: 'fee',
    lineId: null,
    workOrderId: fee.workOrderId,
    code: 'FEE',
    label: fee.label,
    trail: fee.label,
    netMinor: fee.amountMinor,
    byClass: onlyClass('fee', fee.amountMinor),
  };
}

function onlyClass(lineClass: keyof ByClass, amountMinor: bigint): ByClass {
  return { labor: 0n, materials: 0n, trip: 0n, fee: 0n, [lineClass]: amountMinor };
}

function taxItems(setup: TaxSetup, visit: BilledVisit | undefined): readonly TaxItem[] {
  if (visit === undefined) throw new Error('a visit was not billed');
  return invoiceLines({ visits: [visit] }).map((line) => ({
    byClass: line.byClass,
    setup,
    certificate: visit.certificate,
  }));
}
