import { lockContact, setContactEnd } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import type { EndContactInput } from './end-contact.ts';

/** Gives somebody who was ended their part in the account again, as it was. Repeating it changes nothing. */
export function resumeContact(
  services: Services,
  actor: Actor,
  input: EndContactInput,
): Promise<Result<void>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const contact = await lockContact(scope.tx, input.accountId, input.personId);
    if (contact === null) return refuse('not_found', 'There is no such contact.');
    if (contact.endedOn === null) return ok(undefined);
    await setContactEnd(scope.tx, input.accountId, input.personId, null);
    const detail = { person: input.personId, had_ended_on: contact.endedOn };
    await record(scope, 'contact_resumed', { kind: 'account', id: input.accountId }, detail);
    return ok(undefined);
  });
}
