import type { DecisionLineRow, DecisionRow, DecisionSignatureRow } from '@grainwright/db';
import { drawn } from './acceptance-view.ts';
import type { DecisionSignatureView, DecisionView } from './work-order-view.ts';

/** `decidedBy` is the person's name; null where a standing approval answered. */
export function decisionView(
  row: DecisionRow,
  lines: readonly DecisionLineRow[],
  decidedBy: string | null,
  signature: DecisionSignatureRow | null = null,
): DecisionView {
  const { id, versionId, decidedAt, given, repairsMinor, minimumMinor, afterHoursMinor } = row;
  const { tripMinor, taxMinor, totalMinor } = row;
  return {
    id,
    versionId,
    decidedBy,
    decidedAt,
    given,
    rule: ruleView(row),
    signature: signature && signatureView(signature),
    repairsMinor,
    minimumMinor,
    afterHoursMinor,
    tripMinor,
    taxMinor,
    totalMinor,
    lines: lines.map(({ lineId, answer, reason, netMinor, laborMinor, materialsMinor, trail }) => ({
      lineId,
      answer,
      reason,
      netMinor,
      laborMinor,
      materialsMinor,
      trail,
    })),
  };
}

function signatureView({ signerName, method, strokes }: DecisionSignatureRow): DecisionSignatureView {
  return { signerName, method, drawn: strokes === null ? null : drawn(strokes) };
}

function ruleView(row: DecisionRow): DecisionView['rule'] {
  const { standingApprovalId, ruleText, ruleVisitMinor, ruleMonthMinor, comparedMinor } = row;
  if (standingApprovalId === null || ruleText === null || ruleVisitMinor === null || ruleMonthMinor === null)
    return null;
  return {
    standingApprovalId,
    text: ruleText,
    sums: { vehicleMinor: comparedMinor, visitMinor: ruleVisitMinor, monthMinor: ruleMonthMinor },
  };
}
