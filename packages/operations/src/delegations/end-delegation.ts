import { findDelegation, insertDelegationEnd, type ListedDelegation } from '@grainwright/db';
import { type AccountId, type DelegationId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { type DelegationView, delegationView } from './delegation-view.ts';

/**
 * Takes a delegation back, from now on: whoever is away and their delegate can, and the staff who change accounts. What
 * was answered by it stays answered; repeating it changes nothing. `ofAccount` is where it was looked for. Refuses with `not_found` or `not_allowed`.
 */
export function endDelegation(
  services: Services,
  actor: Actor,
  id: DelegationId,
  ofAccount: AccountId | null = null,
): Promise<Result<DelegationView>> {
  const permission = actor.accountId === null ? 'change_accounts' : 'see_work_orders';
  return perform(services, actor, permission, async (scope) => {
    const { tx, today, now } = scope;
    const found = await findDelegation(tx, id, today);
    if (found === null || (ofAccount !== null && found.accountId !== ofAccount))
      return refuse('not_found', 'There is no such delegation.');
    if (actor.accountId !== null && !isTheirs(found, actor))
      return refuse('not_allowed', `Only ${found.fromName} or ${found.toName} takes this back.`);
    if (found.endedAt !== null) return ok(delegationView(found, today));
    const end = { delegationId: id, accountId: found.accountId, endedBy: actor.personId, endedAt: now };
    if (await insertDelegationEnd(tx, end))
      await record(scope, 'delegation_ended', { kind: 'account', id: found.accountId }, { delegation: id });
    return ok(delegationView({ ...found, endedAt: now }, today));
  });
}

function isTheirs({ fromPerson, toPerson }: ListedDelegation, { personId }: Actor): boolean {
  return personId === fromPerson || personId === toPerson;
}
