import type { VisitId } from '../ids.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { AcceptanceOutcome, AcceptanceRule, AcceptanceShown } from './acceptance.ts';

/** Everything that one signature over several vehicles of a visit covers, in the order shown. */
export type VisitAcceptanceShown = {
  readonly format: 'visit-acceptance-shown-1';
  readonly visit: string;
  readonly workOrders: readonly AcceptanceShown[];
};

export function visitAcceptanceShown(
  visitId: VisitId,
  workOrders: readonly AcceptanceShown[],
): VisitAcceptanceShown {
  return { format: 'visit-acceptance-shown-1', visit: visitId, workOrders };
}

/**
 * Whether several vehicles may be answered with one signature: only by the account’s representative, who answers for all
 * of them, and only with a yes; a vehicle that is not accepted is answered by itself. Refuses with
 * `signer_not_fitting` or `invalid_input`. Common practice, no published source.
 */
export function checkVisitAnswer(
  rule: AcceptanceRule,
  outcome: AcceptanceOutcome,
  workOrderCount: number,
): Result<true> {
  if (rule === 'vehicle_owner')
    return refuse(
      'signer_not_fitting',
      'Each vehicle’s owner signs for their own vehicle. Hand each work order over by itself.',
      'signer_role',
    );
  if (workOrderCount === 0)
    return refuse('invalid_input', 'Choose the vehicles that are accepted.', 'work_orders');
  if (outcome === 'not_accepted')
    return refuse(
      'invalid_input',
      'Leave out the vehicle that is not accepted, and answer for it by itself.',
      'outcome',
    );
  return ok(true);
}
