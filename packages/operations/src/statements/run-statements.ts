import {
  enqueueJob,
  findStatementAccount,
  findStatementRun,
  insertRunAccounts,
  insertStatementRun,
  listAccountsForStatements,
  listRunAccounts,
  type StatementRunRecord,
} from '@grainwright/db';
import {
  type AccountId,
  addDays,
  lastDay,
  type Month,
  ok,
  parseMonth,
  type Result,
  refuse,
  type StatementRunId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type RecordScope, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type StatementRunView, statementRunViewOf } from './read-statement-run.ts';

export interface RunStatementsInput {
  /** Made by the client: the same id with the same month and accounts again is the same run. */
  readonly runId: StatementRunId;
  /** `2026-08`; it must be over. */
  readonly month: string;
  /** Null: every account that gets statements by its terms. Those that are named get one even with nothing to tell. */
  readonly accountIds: readonly AccountId[] | null;
}

/**
 * Asks for the statements of a month; the worker issues them. Asked again under the same id it changes nothing, but
 * has what still waits gone on with. Refuses with `invalid_date`, `not_found`, `id_reused`.
 */
export function runStatements(
  services: Services,
  actor: Actor,
  input: RunStatementsInput,
): Promise<Result<StatementRunView>> {
  return performAsStaff(services, actor, 'issue_statement', async (scope) => {
    const asked = await askForStatements(scope, input);
    return asked.ok ? ok(await statementRunViewOf(scope.tx, asked.value)) : asked;
  });
}

export type AskingScope = RecordScope & Pick<Scope, 'today'>;

/** Writes the run down, with every account as waiting, and asks the worker for it. */
export async function askForStatements(
  scope: AskingScope,
  input: RunStatementsInput,
): Promise<Result<StatementRunId>> {
  const month = readMonthThatIsOver(scope, input.month);
  if (!month.ok) return month;
  const accountIds = await accountsAsked(scope, month.value, input.accountIds);
  if (!accountIds.ok) return accountIds;
  const run = {
    id: input.runId,
    month: month.value,
    allAccounts: input.accountIds === null,
    askedBy: scope.actor.personId,
    askedAt: scope.now,
  };
  if (!(await insertStatementRun(scope.tx, run))) return askedBefore(scope, run, accountIds.value);
  await insertRunAccounts(scope.tx, run.id, accountIds.value);
  await record(
    scope,
    'statements_asked_for',
    { kind: 'statement_run', id: run.id },
    { month: run.month, all_accounts: run.allAccounts, accounts: accountIds.value.length },
  );
  await enqueueJob(scope.tx, 'run_statements', run.id);
  return ok(run.id);
}

function readMonthThatIsOver({ today }: AskingScope, text: string): Result<Month> {
  const month = parseMonth(text);
  if (!month.ok || lastDay(month.value) < today) return month;
  const from = addDays(lastDay(month.value), 1);
  return refuse(
    'invalid_date',
    `${month.value} is not over: what it tells may still change. Its statements can be issued from ${from} on.`,
    'month',
  );
}

async function accountsAsked(
  { tx }: AskingScope,
  month: Month,
  named: readonly AccountId[] | null,
): Promise<Result<readonly AccountId[]>> {
  if (named === null) return ok(await listAccountsForStatements(tx, month));
  if (named.length === 0) return refuse('invalid_input', 'Name at least one account.', 'account_ids');
  const ids = [...new Set(named)];
  for (const id of ids)
    if ((await findStatementAccount(tx, id)) === null)
      return refuse('not_found', 'There is no such account.', 'account_ids');
  return ok(ids);
}

async function askedBefore(
  { tx }: AskingScope,
  run: StatementRunRecord,
  accountIds: readonly AccountId[],
): Promise<Result<StatementRunId>> {
  const found = await findStatementRun(tx, run.id);
  const rows = await listRunAccounts(tx, run.id);
  const same =
    found !== null &&
    found.month === run.month &&
    found.allAccounts === run.allAccounts &&
    (run.allAccounts || sameIds(rows, accountIds));
  if (!same) return refuse('id_reused', 'That id is another run of statements already.', 'id');
  if (rows.some((row) => row.state === 'waiting')) await enqueueJob(tx, 'run_statements', run.id);
  return ok(run.id);
}

function sameIds(rows: readonly { readonly accountId: AccountId }[], ids: readonly AccountId[]): boolean {
  const asked = new Set(ids);
  return rows.length === asked.size && rows.every((row) => asked.has(row.accountId));
}
