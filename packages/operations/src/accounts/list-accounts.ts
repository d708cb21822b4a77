import { type AccountListRow, listAccountRows } from '@grainwright/db';
import { type AccountId, ok, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

export interface ListAccountsInput {
  /** Part of a name or short name. */
  readonly search?: string | undefined;
  /** True shows accounts that have ended as well. */
  readonly withEnded?: boolean | undefined;
  /** The last account of the page before. */
  readonly after?: AccountId | undefined;
}

export interface AccountList {
  readonly accounts: readonly AccountListRow[];
  /** What to ask for next; null at the end. */
  readonly next: AccountId | null;
}

const pageSize = 100;

/** The business's accounts by name, a hundred at a time. */
export function listAccounts(
  services: Services,
  actor: Actor,
  input: ListAccountsInput,
): Promise<Result<AccountList>> {
  return performAsStaff(services, actor, 'see_accounts', async ({ tx, today }) => {
    const rows = await listAccountRows(tx, {
      search: (input.search ?? '').trim().slice(0, 100),
      openOn: input.withEnded === true ? null : today,
      after: input.after ?? null,
      limit: pageSize + 1,
    });
    const accounts = rows.slice(0, pageSize);
    return ok({ accounts, next: rows.length > pageSize ? (accounts.at(-1)?.id ?? null) : null });
  });
}
