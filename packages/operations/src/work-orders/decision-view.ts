import type { DecisionLineRow, DecisionRow, DecisionSignatureRow, StoredDecision } from '@grainwright/db';
import { drawn } from './acceptance-view.ts';
import type { DecisionSignatureView, DecisionView } from './work-order-view.ts';

export function decisionView(
  row: DecisionRow,
  lines: readonly DecisionLineRow[],
  { decidedByName, answeredFor }: Pick<StoredDecision, 'decidedByName' | 'answeredFor'>,
  signature: DecisionSignatureRow | null = null,
): DecisionView {
  const { id, versionId, decidedAt, given, repairsMinor, minimumMinor } = row;
  const { afterHoursMinor, rushMinor, visitMinimumMinor, tripMinor, taxMinor, totalMinor } = row;
  return {
    id,
    versionId,
    decidedBy: decidedByName,
    answeredFor,
    decidedAt,
    given,
    rule: ruleView(row),
    signature: signature && signatureView(signature),
    repairsMinor,
    minimumMinor,
    afterHoursMinor,
    rushMinor,
    visitMinimumMinor,
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
