import { findStatementAccount, type StatementAccount } from '@grainwright/db';
import { type AccountId, monthOf, ok, parseMonth, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { readAccountJournal, type StatementView, statementViewOf } from './statement-view.ts';

export interface ReadStatementInput {
  readonly accountId: AccountId;
  /** `2026-08` */
  readonly month: string;
}

/** An account's statement of a month, drawn from the ledger; for a contact only of the own account. */
export function readStatement(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
): Promise<Result<StatementView>> {
  return perform(services, actor, 'see_statements', async (scope) => {
    const account = await openStatementAccount(scope, input.accountId);
    if (!account.ok) return account;
    const month = parseMonth(input.month);
    if (!month.ok) return month;
    if (month.value > monthOf(scope.today))
      return refuse('invalid_date', 'That month has not begun. Choose an earlier one.', 'month');
    const journal = await readAccountJournal(scope, account.value);
    return ok(await statementViewOf(scope, journal, month.value));
  });
}

/** The account, unless it is not there or not the actor's to see. */
export async function openStatementAccount(
  { tx, actor }: Pick<Scope, 'tx' | 'actor'>,
  id: AccountId,
): Promise<Result<StatementAccount>> {
  const account =
    actor.accountId === null || actor.accountId === id ? await findStatementAccount(tx, id) : null;
  return account === null ? refuse('not_found', 'There is no such account.') : ok(account);
}
