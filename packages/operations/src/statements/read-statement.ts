import {
  findFirstEntryDay,
  findLastPosting,
  findStatementAccount,
  findStatementOfMonth,
  listStatementHeads,
  type StatementAccount,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AccountId,
  type Month,
  monthOf,
  ok,
  parseMonth,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { readAccountJournals, standingOf } from './account-journal.ts';
import { thaw } from './frozen-content.ts';
import { type StatementView, statementContentsOf } from './statement-view.ts';

export interface ReadStatementInput {
  readonly accountId: AccountId;
  /** `2026-08` */
  readonly month: string;
}

/**
 * An account's statement of a month: as it was issued, or, while it was not, drawn from the ledger as it stands; for a
 * contact only of the own account.
 */
export function readStatement(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
): Promise<Result<StatementView>> {
  return perform(services, actor, 'see_statements', async (scope) => {
    const asked = await openStatementMonth(scope, input);
    if (!asked.ok) return asked;
    const { account, month } = asked.value;
    const issued = await findStatementOfMonth(scope.tx, account.id, month);
    return ok(issued === null ? await runningStatement(scope, account, month) : thaw(issued));
  });
}

/** The account and the month, unless one of them is not there or not the actor's to see. */
export async function openStatementMonth(
  scope: Pick<Scope, 'tx' | 'actor' | 'today'>,
  input: ReadStatementInput,
): Promise<Result<{ readonly account: StatementAccount; readonly month: Month }>> {
  const account = await openStatementAccount(scope, input.accountId);
  if (!account.ok) return account;
  const month = parseMonth(input.month);
  if (!month.ok) return month;
  if (month.value > monthOf(scope.today))
    return refuse('invalid_date', 'That month has not begun. Choose an earlier one.', 'month');
  const first = await firstMonthOf(scope.tx, account.value);
  if (month.value < first)
    return refuse(
      'invalid_date',
      `${account.value.name} has statements from ${first} on. Choose a later month.`,
      'month',
    );
  return ok({ account: account.value, month: month.value });
}

/** When the account was opened, or its first entry where that is earlier: balances may be brought along. */
async function firstMonthOf(tx: TenantTransaction, { id, openedOn }: StatementAccount): Promise<Month> {
  const entry = await findFirstEntryDay(tx, id);
  return monthOf(entry !== null && entry < openedOn ? entry : openedOn);
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

/** What was posted after a later month was issued is told in one after that, and so not here. */
async function runningStatement(
  scope: Scope,
  account: StatementAccount,
  month: Month,
): Promise<StatementView> {
  const { previous, next } = standingOf(await listStatementHeads(scope.tx, [account.id]), month);
  const posting = next?.posting ?? (await findLastPosting(scope.tx));
  const [journal] = await readAccountJournals(scope.tx, [account]);
  if (journal === undefined) throw new Error('an account has no journal');
  const [content] = await statementContentsOf(scope, month, [{ journal, month, previous, posting }]);
  if (content === undefined) throw new Error('an account has no statement');
  return { ...content, frozen: null };
}
