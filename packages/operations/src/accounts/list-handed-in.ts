import { findAccountName, findHandedIn, listHandedInRows } from '@grainwright/db';
import { type AccountId, type HandedInId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type HandedInView, handedInView } from './handed-in-view.ts';

const rowsMax = 100;

/** What an account handed in, the latest first; for a contact only of the own account. */
export function listHandedIn(
  services: Services,
  actor: Actor,
  accountId: AccountId,
): Promise<Result<readonly HandedInView[]>> {
  return perform(services, actor, 'see_work_orders', async ({ tx }) => {
    if (actor.accountId !== null && actor.accountId !== accountId)
      return refuse('not_found', 'There is no such account.');
    if ((await findAccountName(tx, accountId)) === null)
      return refuse('not_found', 'There is no such account.');
    const rows = await listHandedInRows(tx, { accountId, waitingOnly: false, limit: rowsMax });
    return ok(rows.map(handedInView));
  });
}

/** What any account handed in and nobody has looked at, the latest first; a hundred at most. */
export function listHandedInToCheck(
  services: Services,
  actor: Actor,
): Promise<Result<readonly HandedInView[]>> {
  return performAsStaff(services, actor, 'see_accounts', async ({ tx }) =>
    ok(
      (await listHandedInRows(tx, { accountId: null, waitingOnly: true, limit: rowsMax })).map(handedInView),
    ),
  );
}

export function readHandedIn(
  services: Services,
  actor: Actor,
  id: HandedInId,
): Promise<Result<HandedInView>> {
  return performAsStaff(services, actor, 'see_accounts', async ({ tx }) => {
    const found = await findHandedIn(tx, id);
    return found === null ? refuse('not_found', 'There is no such certificate.') : ok(handedInView(found));
  });
}
