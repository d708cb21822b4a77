import { listAccountNames as listNames } from '@grainwright/db';
import { type AccountId, ok, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

export interface AccountName {
  readonly id: AccountId;
  readonly name: string;
  readonly shortName: string;
}

const namesMax = 1000;

/** The business's accounts to choose from, by name, ended ones too: money still comes from them. A thousand at most. */
export function listAccountNames(services: Services, actor: Actor): Promise<Result<readonly AccountName[]>> {
  return performAsStaff(services, actor, 'see_accounts', async ({ tx }) => ok(await listNames(tx, namesMax)));
}
