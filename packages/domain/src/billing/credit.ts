import type { LineId, VisitId, WorkOrderId } from '../ids.ts';
import type { Decimal } from '../money/decimal.ts';
import { displayPercent, formatMinor, proportionHalfUp, sumMinor } from '../money/money.ts';
import type { PricedLine } from '../pricing/price-line.ts';
import { type EstimateLine, lineAtPercent, lineLoweredTo, vehiclePrice } from '../pricing/price-vehicle.ts';
import { type Surcharge, surchargeFor } from '../pricing/surcharge.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { ByClass } from '../tax/sales-tax.ts';
import type { ExemptionCertificate } from '../tax/tax-setup.ts';
import {
  buildInvoice,
  type FeeToBill,
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

/** What a visit adds once. */
export type VisitChargeKind = 'after_hours' | 'rush' | 'visit_minimum' | 'trip';

/** A charge that is not a repair, taken off whole. */
export type ChargeCorrection =
  | { readonly kind: VisitChargeKind; readonly visitId: VisitId }
  | { readonly kind: 'minimum'; readonly workOrderId: WorkOrderId }
  | {
      readonly kind: 'fee';
      readonly visitId: VisitId;
      /** The vehicle that the fee is for; null where it is of the visit. */
      readonly workOrderId: WorkOrderId | null;
      readonly label: string;
    };

export interface CreditLine {
  readonly kind: InvoiceLine['kind'];
  readonly lineId: LineId | null;
  readonly workOrderId: WorkOrderId | null;
  readonly visitId: VisitId;
  readonly label: string;
  readonly beforeMinor: bigint;
  readonly afterMinor: bigint;
  /** What comes off. */
  readonly netMinor: bigint;
  readonly byClass: ByClass;
  /** How what remains came about, in words; empty where the line is gone. */
  readonly trail: string;
}

export interface CreditTax {
  readonly areaCode: string;
  readonly areaName: string;
  readonly component: string;
  readonly ratePercent: Decimal;
  /** What comes off what is taxed. */
  readonly baseMinor: bigint;
  readonly beforeMinor: bigint;
  readonly afterMinor: bigint;
  /** What comes off the tax. */
  readonly amountMinor: bigint;
}

/** What comes off the gross of an area, by kind. A certificate moves amounts: then exempt is below zero. */
export interface CreditTaxBasis {
  readonly areaCode: string;
  readonly taxableMinor: bigint;
  readonly exemptMinor: bigint;
  readonly nonTaxableMinor: bigint;
}

/** A credit, as amounts above zero that come off the invoice. */
export interface Credit {
  /** Every line of the invoice, before and after. */
  readonly compared: readonly CreditLine[];
  /** Those of which something comes off. */
  readonly lines: readonly CreditLine[];
  readonly taxes: readonly CreditTax[];
  readonly taxBases: readonly CreditTaxBasis[];
  /** What each class of charge gives up together; one may rise while the credit as a whole lowers the invoice. */
  readonly byClass: ByClass;
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** The basis that stands after the credit; a further credit is computed against it. */
  readonly remaining: InvoiceBasis;
}

/**
 * A credit is the invoice as issued minus the invoice recomputed with everything else frozen: further-repair
 * percents, what a cap made of a line, minimums and trips stay as they were, so a credit never brings one of them
 * back; after-hours and rush follow the repairs that remain, and tax what remains taxable. So several credits add up to what one would
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
  if (totalMinor <= 0n) return refuse('invalid_input', whyNothingComesOff(before, after), 'lines');
  return ok({
    compared: lines,
    lines: lines.filter((line) => line.netMinor !== 0n),
    taxes: creditTaxes(before, after),
    taxBases: creditTaxBases(before, after),
    byClass: lines.reduce((sum, line) => addByClass(sum, line.byClass), nothing),
    netMinor: before.totals.withoutTaxMinor - after.totals.withoutTaxMinor,
    taxMinor: before.totals.taxMinor - after.totals.taxMinor,
    totalMinor,
    remaining: remaining.value,
  });
}

/** Where more of a line becomes taxable, such as its materials, tax may rise by all that comes off, or by more. */
function whyNothingComesOff(before: Invoice, after: Invoice): string {
  const netMinor = before.totals.withoutTaxMinor - after.totals.withoutTaxMinor;
  const riseMinor = after.totals.taxMinor - before.totals.taxMinor;
  return riseMinor > 0n
    ? `Sales tax would rise by ${formatMinor(riseMinor)} and the lines would drop by ${formatMinor(netMinor)} only, so nothing comes off the invoice. Reduce the line to an amount instead.`
    : 'This changes nothing on the invoice.';
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
  const isOff = (kind: ChargeCorrection['kind'], fee?: FeeToBill) =>
    correction.charges.some(
      (charge) =>
        charge.kind === kind &&
        charge.kind !== 'minimum' &&
        charge.visitId === visit.visitId &&
        (charge.kind !== 'fee' || (charge.label === fee?.label && charge.workOrderId === fee.workOrderId)),
    );
  return {
    ...visit,
    vehicles,
    afterHours: isOff('after_hours') ? null : correctSurcharge(visit.afterHours, visit.vehicles, vehicles),
    rush: isOff('rush') ? null : correctSurcharge(visit.rush, visit.vehicles, vehicles),
    minimum: isOff('visit_minimum') ? null : visit.minimum,
    trip: isOff('trip') ? null : visit.trip,
    fees: visit.fees.filter((fee) => !isOff('fee', fee)),
  };
}

/**
 * What the rule makes of the repairs that remain. Where an invoice held less than the rule makes of its repairs,
 * because another invoice of the visit held the rest or less was approved, its share of them is frozen instead.
 */
function correctSurcharge(
  charge: Surcharge | null,
  before: readonly VehicleToBill[],
  after: readonly VehicleToBill[],
): Surcharge | null {
  const beforeMinor = sumMinor(before.map((vehicle) => vehicle.price.repairsMinor));
  const repairsMinor = sumMinor(after.map((vehicle) => vehicle.price.repairsMinor));
  if (charge === null || beforeMinor === repairsMinor) return charge;
  const byRule = charge.share === undefined && charge.amountMinor === surchargeFor(beforeMinor, charge);
  const share = byRule
    ? undefined
    : (charge.share ?? { amountMinor: charge.amountMinor, repairsMinor: beforeMinor });
  const amountMinor =
    share === undefined
      ? surchargeFor(repairsMinor, charge)
      : proportionHalfUp(share.amountMinor, repairsMinor, share.repairsMinor);
  const trail = `${charge.trail}, of ${formatMinor(repairsMinor)} after a credit → ${formatMinor(amountMinor)}`;
  return { ...charge, amountMinor, trail, ...(share === undefined ? {} : { share }) };
}

function correctVehicle(vehicle: VehicleToBill, correction: Correction): VehicleToBill {
  const { capMinor = null, ...issued } = vehicle.price;
  const lines = issued.lines.map((line) =>
    correctLine(
      line,
      correction.lines.find((one) => correctedLineId(one) === line.lineId),
      capMinor,
    ),
  );
  const minimumIsOff = correction.charges.some(
    (charge) => charge.kind === 'minimum' && charge.workOrderId === vehicle.workOrderId,
  );
  return { ...vehicle, price: vehiclePrice(lines, minimumIsOff ? null : issued.minimum, capMinor) };
}

function correctLine(
  line: EstimateLine,
  correction: LineCorrection | undefined,
  capMinor: bigint | null,
): EstimateLine {
  if (correction === undefined) return line;
  if (correction.kind !== 'repriced')
    return lineLoweredTo(correction.kind === 'reduced' ? correction.netMinor : 0n, line, 'credited');
  const words = `as issued ${displayPercent(line.furtherPercent)}`;
  const repriced = lineAtPercent(correction.line, line.furtherPercent, words);
  // A cap lowered the line below its own price, so that even a smaller one may be above what was billed.
  return capMinor !== null && repriced.netMinor > line.netMinor
    ? lineLoweredTo(line.netMinor, repriced, `vehicle cap ${formatMinor(capMinor)}, as billed`)
    : repriced;
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
        beforeMinor: line.netMinor,
        afterMinor: now?.netMinor ?? 0n,
        netMinor: line.netMinor - (now?.netMinor ?? 0n),
        byClass: subtractByClass(line.byClass, now?.byClass ?? nothing),
        trail: now?.trail ?? '',
      };
    });
  });
}

/** What makes a line the same one within its visit, before and after a correction; fees stay or go whole. */
function lineKey(line: InvoiceLine): string {
  if (line.kind === 'fee') return `fee ${line.workOrderId ?? ''} ${line.label} ${line.netMinor}`;
  return `${line.kind} ${line.lineId ?? line.workOrderId ?? ''}`;
}

function addByClass(a: ByClass, b: ByClass): ByClass {
  return {
    labor: a.labor + b.labor,
    materials: a.materials + b.materials,
    trip: a.trip + b.trip,
    fee: a.fee + b.fee,
  };
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
      const { areaCode, areaName } = area;
      const { name, ratePercent } = component;
      const amounts = { beforeMinor: component.amountMinor, afterMinor: now?.amountMinor ?? 0n, amountMinor };
      return [{ areaCode, areaName, component: name, ratePercent, baseMinor, ...amounts }];
    });
  });
}

/** By area: periods of different rates are one place. */
function creditTaxBases(before: Invoice, after: Invoice): readonly CreditTaxBasis[] {
  const codes = [...new Set(before.tax.areas.map((area) => area.areaCode))];
  return codes.map((areaCode) => {
    const taken = (kind: 'taxableMinor' | 'exemptMinor' | 'nonTaxableMinor') =>
      sumOfArea(before, areaCode, kind) - sumOfArea(after, areaCode, kind);
    return {
      areaCode,
      taxableMinor: taken('taxableMinor'),
      exemptMinor: taken('exemptMinor'),
      nonTaxableMinor: taken('nonTaxableMinor'),
    };
  });
}

function sumOfArea(
  invoice: Invoice,
  areaCode: string,
  kind: 'taxableMinor' | 'exemptMinor' | 'nonTaxableMinor',
): bigint {
  return sumMinor(invoice.tax.areas.filter((area) => area.areaCode === areaCode).map((area) => area[kind]));
}
