import { listAskableApprovers, lockAccount, setAskPosition } from '@grainwright/db';
import { type AccountId, ok, type PersonId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface OrderApproversInput {
  readonly accountId: AccountId;
  /** All approvers of the account who are still there, each once; the first is asked first. */
  readonly personIds: readonly PersonId[];
}

/** Sets in which order an account’s approvers are asked. Refuses with `invalid_input` or `not_found`. */
export function orderApprovers(
  services: Services,
  actor: Actor,
  { accountId, personIds }: OrderApproversInput,
): Promise<Result<void>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx, today } = scope;
    if ((await lockAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    const approvers = await listAskableApprovers(tx, accountId, today);
    const before = approvers.map(({ personId }) => personId);
    const same =
      before.length === personIds.length &&
      new Set(personIds).size === personIds.length &&
      personIds.every((personId) => before.includes(personId));
    if (!same)
      return refuse(
        'invalid_input',
        'Name every approver of the account once; somebody came or left meanwhile. Look at the list again.',
        'person_ids',
      );
    if (before.join() === personIds.join()) return ok(undefined);
    for (const [index, personId] of personIds.entries())
      await setAskPosition(tx, { accountId, personId, position: index + 1 });
    await record(
      scope,
      'ask_order_changed',
      { kind: 'account', id: accountId },
      { before, after: [...personIds] },
    );
    return ok(undefined);
  });
}
