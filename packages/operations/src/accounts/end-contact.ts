import { endDelegationsOf, lockContact, revokeAccessLinks, setContactEnd } from '@grainwright/db';
import { type AccountId, ok, type PersonId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface EndContactInput {
  readonly accountId: AccountId;
  readonly personId: PersonId;
}

/**
 * Ends somebody's part in the account, today. Access is read from the tenant's own rows on every request, so the next
 * one is refused; every link they were sent is taken back for good, and nobody answers for them or they for anybody. What they decided and signed keeps their name. Repeating it changes nothing.
 */
export function endContact(services: Services, actor: Actor, input: EndContactInput): Promise<Result<void>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx, today, now } = scope;
    const contact = await lockContact(tx, input.accountId, input.personId);
    if (contact === null) return refuse('not_found', 'There is no such contact.');
    if (contact.endedOn !== null && contact.endedOn <= today) return ok(undefined);
    await setContactEnd(tx, input.accountId, input.personId, today);
    const links = await revokeAccessLinks(tx, input, now);
    const delegations = await endDelegationsOf(tx, input, { endedBy: actor.personId, endedAt: now });
    await record(
      scope,
      'contact_ended',
      { kind: 'account', id: input.accountId },
      { person: input.personId, ended_on: today, links_revoked: links, delegations_ended: delegations },
    );
    return ok(undefined);
  });
}
