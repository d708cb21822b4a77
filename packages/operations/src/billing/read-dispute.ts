import { findDispute } from '@grainwright/db';
import { type DisputeId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type DisputeView, disputeView } from './dispute-view.ts';

/** One dispute; for a contact only of the own account. */
export function readDispute(services: Services, actor: Actor, id: DisputeId): Promise<Result<DisputeView>> {
  return perform(services, actor, 'see_invoices', async (scope) => {
    const found = await findDispute(scope.tx, id);
    if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such dispute.');
    return ok(disputeView(scope, found));
  });
}
