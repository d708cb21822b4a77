import { findStop } from '@grainwright/db';
import { ok, type Result, refuse, type VisitId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadStops, type StopView } from './load-stops.ts';

/** One stop with its vehicles and what comes next on each; amounts are minor units of `currency`. */
export function readStop(
  services: Services,
  actor: Actor,
  visitId: VisitId,
): Promise<Result<StopView & { readonly currency: string }>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const row = await findStop(scope.tx, visitId);
    const [stop] = row === null ? [] : await loadStops(scope, [row]);
    if (stop === undefined) return refuse('not_found', 'There is no such stop.');
    return ok({ ...stop, currency: scope.business.currency });
  });
}
