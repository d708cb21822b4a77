import type { LineId, VisitId, WorkOrderId } from '../ids.ts';
import { displayPercent, formatMinor, sumMinor } from '../money/money.ts';
import type { PricedLine } from '../pricing/price-line.ts';
import { type EstimateLine, lineAtPercent, splitLine } from '../pricing/price-vehicle.ts';
import { type AfterHoursCharge, afterHoursFor } from '../pricing/price-visit.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { ByClass } from '../tax/sales-tax.ts';
import type { ExemptionCertificate } from '../tax/tax-setup.ts';
import {
  buildInvoice,
  type Invoice,
  type InvoiceBasis,
  type InvoiceLine,
  invoiceLines,
  type VehicleToBill,
  type VisitToBill,
} from './invoice.ts';

/** What an issued invoice should have said. Everything not named stays frozen. */
export interface Correction {
  readonly lines: readonly LineCorrection[];
  readonly charges: readonly ChargeCorrection[];
  /** Certificates furnished since; whether a late one counts is the business's decision. */
  readonly certificates: readonly ExemptionCertificate[];
}

export type LineCorrection =
  | { readonly kind: 'dropped'; readonly lineId: LineId }
  /** An agreed net amount; labor and materials keep their shares. */
  | { readonly kind: 'reduced'; readonly lineId: LineId; readonly netMinor: bigint }
  /** The line priced again, such as in the band that was measured; it keeps its further-repair percent. */
  | { readonly kind: 'repriced'; readonly line: PricedLine };

/** A charge that is not a repair, taken off whole. */
export type ChargeCorrection =
  | { readonly kind: 'after_hours' | 'trip'; readonly visitId: VisitId }
  | { readonly kind: 'minimum'; readonly workOrderId: WorkOrderId }
  | { readonly kind: 'fee'; readonly visitId: VisitId; readonly label: string };

export interface CreditLine {
  readonly kind: InvoiceLine['kind'];
  readonly lineId: LineId | null;
  readonly workOrderId: WorkOrderId | null;
  readonly visitId: VisitId;
  readonly label: string;
  readonly netMinor: bigint;
  readonly byClass: ByClass;
}

export interface CreditTax {
  readonly areaCode: string;
  readonly component: string;
  readonly baseMinor: bigint;
  readonly amountMinor: bigint;
}

/** A credit, as amounts above zero that come off the invoice. */
export interface Credit {
  readonly lines: readonly CreditLine[];
  readonly taxes: readonly CreditTax[];
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** The basis that stands after the credit; a further credit is computed against it. */
  readonly remaining: InvoiceBasis;
}

/**
 * A credit is the invoice as issued minus the invoice recomputed with everything else frozen: further-repair
 * percents, minimums and trips stay as they were, so a credit never brings one of them back; after-hours
 * follows the repairs that remain, and tax what remains taxable. So several credits add up to what one would
 * have been. Refuses a line that the invoice does not have, and anything that would not lower the invoice.
 */
export function creditByDifference(issued: InvoiceBasis, correction: Correction): Result<Credit> {
  const remaining = recomputeFrozen(issued, correction);
  if (!remaining.ok) return remaining;
  const before = buildInvoice(issued);
  const after = buildInvoice(remaining.value);
  const lines = creditLines(before, after);
  const raised = lines.find((line) => line.netMinor < 0n);
  if (raised)
    return refuse(
      'invalid_money',
      `A credit can only lower a line, and “${raised.label}” would rise by ${formatMinor(-raised.netMinor)}. Bill that separately.`,
      'lines',
    );
  const totalMinor = before.totals.withTaxMinor - after.totals.withTaxMinor;
  if (totalMinor <= 0n) return refuse('invalid_input', 'This changes nothing on the invoice.', 'lines');
  return ok({
    lines: lines.filter((line) => line.netMinor !== 0n),
    taxes: creditTaxes(before, after),
    netMinor: before.totals.withoutTaxMinor - after.totals.withoutTaxMinor,
    taxMinor: before.totals.taxMinor - after.totals.taxMinor,
    totalMinor,
    remaining: remaining.value,
  });
}

function recomputeFrozen(issued: InvoiceBasis, correction: Correction): Result<InvoiceBasis> {
  const known = new Set(
    issued.visits.flatMap((visit) =>
      visit.vehicles.flatMap((vehicle) => vehicle.price.lines.map((line) => line.lineId)),
    ),
  );
  if (correction.lines.some((line) => !known.has(correctedLineId(line))))
    return refuse(
      'invalid_input',
      'A line to credit is not on this invoice. Open the invoice again.',
      'lines',
    );
  if (correction.lines.some((line) => line.kind === 'reduced' && line.netMinor < 0n))
    return refuse('invalid_money', 'A line can’t be reduced below zero.', 'lines');
  return ok({
    ...issued,
    visits: issued.visits.map((visit) => correctVisit(visit, correction)),
    certificates: [...issued.certificates, ...correction.certificates],
  });
}

function correctedLineId(correction: LineCorrection): LineId {
  return correction.kind === 'repriced' ? correction.line.lineId : correction.lineId;
}

function correctVisit(visit: VisitToBill, correction: Correction): VisitToBill {
  const vehicles = visit.vehicles.map((vehicle) => correctVehicle(vehicle, correction));
  const isOff = (kind: ChargeCorrection['kind'], label?: string) =>
    correction.charges.some(
      (charge) =>
        charge.kind === kind &&
        charge.kind !== 'minimum' &&
        charge.visitId === visit.visitId &&
        (charge.kind !== 'fee' || charge.label === label),
    );
  return {
    ...visit,
    vehicles,
    afterHours: isOff('after_hours') ? null : correctAfterHours(visit, vehicles),
    trip: isOff('trip') ? null : visit.trip,
    fees: visit.fees.filter((fee) => !isOff('fee', fee.label)),
  };
}

function correctAfterHours(visit: VisitToBill, vehicles: readonly VehicleToBill[]): AfterHoursCharge | null {
  const before = sumMinor(visit.vehicles.map((vehicle) => vehicle.price.repairsMinor));
  const repairsMinor = sumMinor(vehicles.map((vehicle) => vehicle.price.repairsMinor));
  if (visit.afterHours === null || before === repairsMinor) return visit.afterHours;
  const amountMinor = afterHoursFor(repairsMinor, visit.afterHours);
  const trail = `${visit.afterHours.trail}, of ${formatMinor(repairsMinor)} after a credit → ${formatMinor(amountMinor)}`;
  return { ...visit.afterHours, amountMinor, trail };
}

function correctVehicle(vehicle: VehicleToBill, correction: Correction): VehicleToBill {
  const lines = vehicle.price.lines.map((line) =>
    correctLine(
      line,
      correction.lines.find((one) => correctedLineId(one) === line.lineId),
    ),
  );
  const minimumIsOff = correction.charges.some(
    (charge) => charge.kind === 'minimum' && charge.workOrderId === vehicle.workOrderId,
  );
  const minimum = minimumIsOff ? null : vehicle.price.minimum;
  const repairsMinor = sumMinor(lines.map((line) => line.netMinor)) + (minimum?.netMinor ?? 0n);
  const materialsMinor = sumMinor(lines.map((line) => line.materialsMinor));
  return {
    ...vehicle,
    price: { lines, minimum, repairsMinor, laborMinor: repairsMinor - materialsMinor, materialsMinor },
  };
}

function correctLine(line: EstimateLine, correction: LineCorrection | undefined): EstimateLine {
  if (correction === undefined) return line;
  if (correction.kind === 'repriced')
    return lineAtPercent(
      correction.line,
      line.furtherPercent,
      `as issued ${displayPercent(line.furtherPercent)}`,
    );
  const netMinor = correction.kind === 'reduced' ? correction.netMinor : 0n;
  return {
    ...line,
    netMinor,
    ...splitLine(netMinor, line.materialsPercent),
    trail: `${line.trail}, credited → ${formatMinor(netMinor)}`,
  };
}

const nothing: ByClass = { labor: 0n, materials: 0n, trip: 0n, fee: 0n };

function creditLines(before: Invoice, after: Invoice): readonly CreditLine[] {
  return before.visits.flatMap((visit, index) => {
    const corrected = new Map(
      invoiceLines({ visits: after.visits.slice(index, index + 1) }).map((line) => [lineKey(line), line]),
    );
    return invoiceLines({ visits: [visit] }).map((line) => {
      const now = corrected.get(lineKey(line));
      const { kind, lineId, workOrderId, label } = line;
      return {
        kind,
        lineId,
        workOrderId,
        visitId: visit.visitId,
        label,
        netMinor: line.netMinor - (now?.netMinor ?? 0n),
        byClass: subtractByClass(line.byClass, now?.byClass ?? nothing),
      };
    });
  });
}

/** What makes a line the same one within its visit, before and after a correction; fees stay or go whole. */
function lineKey(line: InvoiceLine): string {
  if (line.kind === 'fee') return `fee ${line.workOrderId ?? ''} ${line.label} ${line.netMinor}`;
  return `${line.kind} ${line.lineId ?? line.workOrderId ?? ''}`;
}

function subtractByClass(a: ByClass, b: ByClass): ByClass {
  return {
    labor: a.labor - b.labor,
    materials: a.materials - b.materials,
    trip: a.trip - b.trip,
    fee: a.fee - b.fee,
  };
}

function creditTaxes(before: Invoice, after: Invoice): readonly CreditTax[] {
  return before.tax.areas.flatMap((area) => {
    const remaining = after.tax.areas.find(
      (one) => one.areaCode === area.areaCode && one.ratesFrom === area.ratesFrom,
    );
    return area.components.flatMap((component, place) => {
      const now = remaining?.components[place];
      const amountMinor = component.amountMinor - (now?.amountMinor ?? 0n);
      const baseMinor = component.baseMinor - (now?.baseMinor ?? 0n);
      if (amountMinor === 0n && baseMinor === 0n) return [];
      return [{ areaCode: area.areaCode, component: component.name, baseMinor, amountMinor }];
    });
  });
}
