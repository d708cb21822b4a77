import { demoAccounts } from '../../apps/cli/src/demo/accounts.ts';
import { openAccount } from '../../apps/cli/src/demo/open-business.ts';
import type { OpenedAccount } from '../../apps/cli/src/demo/stage.ts';
import type { Business } from '../support/world.ts';

/** An account of the demo at a business of the test: its terms, place, contacts, certificate and standing approval. */
export async function demoAccount(business: Business, shortName: string): Promise<OpenedAccount> {
  const account = demoAccounts.find((each) => each.shortName === shortName);
  if (!account) throw new Error(`the demo has no account ${shortName}`);
  return openAccount(business.world.services, business.owner, account, '2026-01-01');
}
