import type { DecisionId, PhotoId, Problem, Result, WorkOrderId } from '@grainwright/domain';
import { ok, refuse } from '@grainwright/domain';
import type { Actor } from '../perform.ts';
import type { Services } from '../services.ts';
import { type Decided, decideEstimate } from '../work-orders/decide-estimate.ts';
import type { SeenVersion } from '../work-orders/estimate-version.ts';
import { readWorkOrder } from '../work-orders/read-work-order.ts';
import type { WorkOrderView } from '../work-orders/work-order-view.ts';

/** One of several estimates that get the same yes, as it was shown. */
export interface ApprovedAsShown extends SeenVersion {
  readonly decisionId: DecisionId;
  readonly workOrderId: WorkOrderId;
  /** As a decimal string. */
  readonly total: string;
  readonly photoIds?: readonly PhotoId[] | undefined;
}

/** What became of one of them. */
export type AnsweredOne =
  | { readonly workOrderId: WorkOrderId; readonly decided: Decided; readonly problem: null }
  | { readonly workOrderId: WorkOrderId; readonly decided: null; readonly problem: Problem };

const atOnceMax = 50;

/**
 * A yes to every line of several estimates at once. Each is an answer of its own, in a transaction of its own, as
 * `decideEstimate` gives it: what one of them is refused for keeps none of the others. Refuses with `invalid_input`
 * none, or more than fifty, and with `not_found` where one of them is not the actor’s to see: then none is answered.
 */
export async function approveSeveral(
  services: Services,
  actor: Actor,
  estimates: readonly ApprovedAsShown[],
): Promise<Result<readonly AnsweredOne[]>> {
  if (estimates.length === 0 || estimates.length > atOnceMax)
    return refuse('invalid_input', `Answer from 1 to ${atOnceMax} estimates at once.`, 'estimates');
  const views = new Map<WorkOrderId, WorkOrderView>();
  for (const { workOrderId } of estimates) {
    const view = await readWorkOrder(services, actor, workOrderId);
    if (!view.ok) return view;
    views.set(workOrderId, view.value);
  }
  const answered: AnsweredOne[] = [];
  for (const shown of estimates) {
    const { workOrderId } = shown;
    const lines = views.get(workOrderId)?.estimate?.lines ?? [];
    const answers = lines.map(({ lineId }) => ({ lineId, answer: 'approved' as const, reason: '' }));
    const decided = await decideEstimate(services, actor, { ...shown, answers });
    if (!decided.ok && isOfPerson(decided.problem)) return decided;
    answered.push(
      decided.ok
        ? { workOrderId, decided: decided.value, problem: null }
        : { workOrderId, decided: null, problem: decided.problem },
    );
  }
  return ok(answered);
}

/** It would be the same for every one of them. */
function isOfPerson({ code }: Problem): boolean {
  return ['not_allowed', 'not_signed_in', 'unavailable', 'link_revoked', 'link_expired'].includes(code);
}
