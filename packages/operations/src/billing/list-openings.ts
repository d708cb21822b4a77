import { findAccount, listOpenings as listOpeningRows } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type OpeningView, openingViewOf } from './opening-view.ts';

/** What an account brought along from older books. */
export function listOpenings(
  services: Services,
  actor: Actor,
  accountId: AccountId,
): Promise<Result<readonly OpeningView[]>> {
  return performAsStaff(services, actor, 'see_payments', async (scope) => {
    if ((await findAccount(scope.tx, accountId)) === null)
      return refuse('not_found', 'There is no such account.');
    const views = [];
    for (const row of await listOpeningRows(scope.tx, accountId)) views.push(await openingViewOf(scope, row));
    return ok(views);
  });
}
