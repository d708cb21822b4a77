import { type AccountGroupRow, listAccountGroupRows } from '@grainwright/db';
import { ok, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** The business's groups of accounts by name; a thousand at most. */
export function listAccountGroups(
  services: Services,
  actor: Actor,
): Promise<Result<readonly Omit<AccountGroupRow, 'tenantId'>[]>> {
  return performAsStaff(services, actor, 'see_accounts', async ({ tx }) =>
    ok((await listAccountGroupRows(tx)).map(({ id, name }) => ({ id, name }))),
  );
}
