import type { StoredEstimate, WorkOrderRow } from '@grainwright/db';
import { type DecisionId, ok, type Result, toId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { answerable, priceAnswers } from './estimate-version.ts';
import { writeDecision } from './write-decision.ts';

/** Approves every line of a rework’s estimate at once: it comes to nothing, so nobody has to agree to it. */
export async function approveWithoutCharge(
  scope: Scope,
  workOrder: WorkOrderRow,
  estimate: StoredEstimate,
): Promise<Result<boolean>> {
  const answers = estimate.lines.map(({ lineId }) => ({ lineId, answer: 'approved' as const, reason: '' }));
  const price = priceAnswers(await answerable(scope, workOrder, estimate), answers);
  if (!price.ok) return price;
  if (price.value.invoice.totals.withTaxMinor !== 0n) throw new Error('a rework came to something');
  const id = toId<DecisionId>(scope.newId());
  const by = { kind: 'without_charge' as const };
  const written = await writeDecision(scope, { id, workOrder, estimate, answers, price: price.value, by });
  return written.ok ? ok(true) : written;
}
