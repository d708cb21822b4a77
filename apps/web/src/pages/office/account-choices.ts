import type { AccountId } from '@grainwright/domain';
import { type Actor, listAccounts, type Services } from '@grainwright/operations';
import type { Choice } from '../../look/forms.ts';
import { unwrap } from '../../plugins/problem-error.ts';

const pagesMax = 10;

/** The accounts to choose from by name, closed ones too: money still comes from them. A thousand at most. */
export async function accountChoices(services: Services, actor: Actor): Promise<readonly Choice[]> {
  const choices: Choice[] = [];
  let after: AccountId | undefined;
  for (let page = 0; page < pagesMax; page += 1) {
    const list = unwrap(await listAccounts(services, actor, { withEnded: true, after }));
    choices.push(
      ...list.accounts.map(({ id, name, shortName }) => ({ value: id, label: `${name} (${shortName})` })),
    );
    if (list.next === null) break;
    after = list.next;
  }
  return choices;
}
