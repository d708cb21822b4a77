import { findAcceptance } from '@grainwright/db';
import {
  type AcceptanceId,
  type AcceptanceShown,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { acceptanceView } from '../work-orders/acceptance-view.ts';
import { cautionsAtHandOver } from '../work-orders/cautions.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';
import { readWork } from '../work-orders/work-lines.ts';
import type { AcceptanceView } from '../work-orders/work-order-view.ts';

/** An answer as it was signed, word for word. */
export interface SignedAcceptance {
  readonly workOrder: WorkHeading;
  readonly shown: AcceptanceShown;
  readonly answer: AcceptanceView;
  /** How to care for the repair, in sentences; it is no part of what was signed. */
  readonly expect: readonly string[];
}

/** The signed answer, for the signer to keep a copy. Refuses with `not_found`. */
export function readAcceptance(
  services: Services,
  actor: Actor,
  input: { readonly workOrderId: WorkOrderId; readonly acceptanceId: AcceptanceId },
): Promise<Result<SignedAcceptance>> {
  return performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const row = await findAcceptance(scope.tx, input.acceptanceId);
    const work = await readWork(scope, input.workOrderId);
    if (row === null || !work.ok || row.workOrderId !== input.workOrderId)
      return refuse('not_found', 'There is no such answer.');
    return ok({
      workOrder: workHeading(work.value),
      // Written from a value of this type, and append-only since.
      shown: JSON.parse(row.shown) as AcceptanceShown,
      answer: acceptanceView(row),
      expect: cautionsAtHandOver(work.value).map(({ sentence }) => sentence),
    });
  });
}
