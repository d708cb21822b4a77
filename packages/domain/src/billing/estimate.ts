import type { Day } from '../dates.ts';
import type { LineId, VisitId, WorkOrderId } from '../ids.ts';
import { depositMinor } from '../pricing/deposit.ts';
import type { PriceTerms } from '../pricing/price-book.ts';
import type { PricedLine } from '../pricing/price-line.ts';
import { repriceApproved, type VehiclePrice, type VehicleRules } from '../pricing/price-vehicle.ts';
import { priceVisit, type VisitFacts, type VisitPrice, type VisitTier } from '../pricing/price-visit.ts';
import { ok, type Result } from '../result.ts';
import type { ExemptionCertificate, TaxRounding, TaxSetup } from '../tax/tax-setup.ts';
import { buildInvoice, type Invoice } from './invoice.ts';

/** All that priced an estimate besides its lines. Stored with each version, so that no price book is asked again. */
export interface EstimateRules {
  readonly vehicle: VehicleRules;
  readonly visit: VisitFacts;
  readonly tier: VisitTier;
  readonly terms: PriceTerms;
  readonly taxSetup: TaxSetup;
  readonly certificates: readonly ExemptionCertificate[];
  readonly taxRounding: TaxRounding;
}

export interface EstimateSubject {
  readonly workOrderId: WorkOrderId;
  readonly visitId: VisitId;
  readonly dateOfWork: Day;
  readonly label: string;
}

/** An estimate's figures, as if the vehicle were the only one of its visit. Amounts are minor units. */
export interface EstimatePrice {
  readonly vehicle: VehiclePrice;
  readonly visit: VisitPrice;
  /** What a limit is compared with: repairs, minimum, after-hours and rush, before trip and tax. */
  readonly limitMinor: bigint;
  /** What is asked for in advance of whoever is asked for a deposit; zero below the terms' threshold. */
  readonly depositMinor: bigint;
  readonly invoice: Invoice;
}

/** Prices the approved lines of an estimate from what is stored with it. Refuses an id that is not in it. */
export function priceEstimate(
  lines: readonly PricedLine[],
  rules: EstimateRules,
  subject: EstimateSubject,
  approvedLineIds: readonly LineId[] = lines.map((line) => line.lineId),
): Result<EstimatePrice> {
  const vehicle = repriceApproved({ lines, rules: rules.vehicle }, approvedLineIds);
  if (!vehicle.ok) return vehicle;
  const visit = priceVisit([vehicle.value], rules.visit, rules.tier, rules.terms);
  const { afterHours, rush, minimum, trip } = visit;
  const invoice = buildInvoice({
    visits: [
      {
        visitId: subject.visitId,
        dateOfWork: subject.dateOfWork,
        taxSetup: rules.taxSetup,
        vehicles: [{ workOrderId: subject.workOrderId, label: subject.label, price: vehicle.value }],
        afterHours,
        rush,
        minimum,
        trip,
        fees: [],
      },
    ],
    certificates: rules.certificates,
    taxRounding: rules.taxRounding,
    prepaidMinor: 0n,
  });
  const asked = depositMinor(invoice.totals.withTaxMinor, rules.terms);
  return ok({
    vehicle: vehicle.value,
    visit,
    limitMinor: visit.limitMinor,
    depositMinor: asked,
    invoice,
  });
}
