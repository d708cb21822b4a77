import type { Day } from '../dates.ts';
import type { LineId, VersionId, WorkOrderId } from '../ids.ts';
import type { JsonValue } from './canonical-json.ts';

/** A version of an estimate as its approver sees it. Amounts are minor units of `currency`. */
export interface EstimateContent {
  readonly workOrderId: WorkOrderId;
  readonly versionId: VersionId;
  /** Counted from 1 within the work order. */
  readonly versionNumber: number;
  readonly rateDay: Day;
  readonly expiresOn: Day | null;
  readonly currency: string;
  readonly lines: readonly EstimateLineContent[];
  /** Added up to the account's minimum for the vehicle; zero where none was needed. */
  readonly vehicleMinimumMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
  /** Added up to the account's minimum for the visit, if this is its only vehicle; zero where none was needed. */
  readonly visitMinimumMinor: bigint;
  readonly tripMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
}

export interface EstimateLineContent {
  readonly lineId: LineId;
  readonly code: string;
  /** What it is, in the words shown. */
  readonly text: string;
  /** Measured size in plain decimal notation; null where nothing is measured. */
  readonly inches: string | null;
  readonly beforeFurtherRepairMinor: bigint;
  readonly takesFurtherRepair: boolean;
  readonly netMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
}

/** The canonical content of an estimate's version: its digest is what an approval names as the version seen. */
export function estimateDigestInput(estimate: EstimateContent): JsonValue {
  return {
    format: 'estimate-version-2',
    workOrder: estimate.workOrderId,
    version: estimate.versionId,
    number: estimate.versionNumber,
    rateDay: estimate.rateDay,
    expiresOn: estimate.expiresOn,
    currency: estimate.currency,
    lines: estimate.lines.map(lineInput),
    vehicleMinimumMinor: String(estimate.vehicleMinimumMinor),
    afterHoursMinor: String(estimate.afterHoursMinor),
    rushMinor: String(estimate.rushMinor),
    visitMinimumMinor: String(estimate.visitMinimumMinor),
    tripMinor: String(estimate.tripMinor),
    taxMinor: String(estimate.taxMinor),
    totalMinor: String(estimate.totalMinor),
  };
}

function lineInput(line: EstimateLineContent): JsonValue {
  return {
    line: line.lineId,
    code: line.code,
    text: line.text,
    inches: line.inches,
    beforeFurtherRepairMinor: String(line.beforeFurtherRepairMinor),
    takesFurtherRepair: line.takesFurtherRepair,
    netMinor: String(line.netMinor),
    laborMinor: String(line.laborMinor),
    materialsMinor: String(line.materialsMinor),
  };
}
