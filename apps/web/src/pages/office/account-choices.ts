import { type Actor, listAccountNames, type Services } from '@grainwright/operations';
import type { Choice } from '../../look/forms.ts';
import { unwrap } from '../../plugins/problem-error.ts';

/** The accounts to choose from by name. */
export async function accountChoices(services: Services, actor: Actor): Promise<readonly Choice[]> {
  const accounts = unwrap(await listAccountNames(services, actor));
  return accounts.map(({ id, name, shortName }) => ({ value: id, label: `${name} (${shortName})` }));
}
