import { findAccountGroup, insertAccountGroup } from '@grainwright/db';
import { type AccountGroupId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';

export interface AddAccountGroupInput {
  readonly id: AccountGroupId;
  readonly name: string;
}

/** Adds a group of accounts that one payer pays for together. Refuses with `duplicate` a name that is there. */
export function addAccountGroup(
  services: Services,
  actor: Actor,
  input: AddAccountGroupInput,
): Promise<Result<{ id: AccountGroupId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id } = input;
    const name = readWords(input.name, 'name', 'the group’s name', 200);
    if (!name.ok) return name;
    if (!(await insertAccountGroup(tx, { id, name: name.value }))) {
      const there = await findAccountGroup(tx, id);
      if (there?.name === name.value) return ok({ id });
      return there === null
        ? refuse('duplicate', `There is a group named ${name.value} already. Choose it.`, 'name')
        : refuse('id_reused', 'This id stands for another group. Send a new one.', 'id');
    }
    await record(scope, 'account_group_added', { kind: 'account_group', id }, { name: name.value });
    return ok({ id });
  });
}
