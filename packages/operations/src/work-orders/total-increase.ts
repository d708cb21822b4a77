import { findApprovalBefore, type StoredEstimate, type WorkOrderRow } from '@grainwright/db';
import { changeOfTotal } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { answerable, priceAnswers } from './estimate-version.ts';
import type { IncreaseView } from './work-order-view.ts';

/**
 * What the total that was approved last has become: the answered total where the newest version is answered, else the
 * one that is asked for, priced without the lines that were declined before. Null where nothing was approved before.
 */
export async function totalIncrease(
  scope: Scope,
  workOrder: WorkOrderRow,
  sent: StoredEstimate,
  answeredMinor: bigint | null,
): Promise<IncreaseView | null> {
  const before = await findApprovalBefore(scope.tx, workOrder.id, sent.version.id);
  if (before === null) return null;
  const declinedBefore = before.lines
    .filter((line) => line.answer === 'declined' && sent.lines.some((each) => each.lineId === line.lineId))
    .map(({ lineId, reason }) => ({ lineId, reason }));
  const newMinor = answeredMinor ?? (await askedFor(scope, workOrder, sent, declinedBefore));
  return {
    ...changeOfTotal(before.decision.totalMinor, newMinor),
    approvedAt: before.decision.decidedAt,
    approvedBy: before.decidedByName,
    declinedBefore,
  };
}

async function askedFor(
  scope: Scope,
  workOrder: WorkOrderRow,
  sent: StoredEstimate,
  declined: IncreaseView['declinedBefore'],
): Promise<bigint> {
  if (declined.length === 0) return sent.version.totalMinor;
  const answers = sent.lines.map(({ lineId }) => {
    const before = declined.find((each) => each.lineId === lineId);
    return before === undefined
      ? { lineId, answer: 'approved' as const, reason: '' }
      : { lineId, answer: 'declined' as const, reason: before.reason };
  });
  const price = priceAnswers(await answerable(scope, workOrder, sent), answers);
  if (!price.ok) throw new Error(price.problem.detail);
  return price.value.invoice.totals.withTaxMinor;
}
