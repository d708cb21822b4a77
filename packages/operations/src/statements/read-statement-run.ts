import {
  countRunAccounts,
  type FoundStatementRun,
  findStatementRun,
  listMailedStatements,
  listRunAccounts,
  type RunAccountRow,
  type RunAccountState,
  type TenantTransaction,
} from '@grainwright/db';
import { ok, type Result, refuse, type StatementRunId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** Where each account of a run stands, as pages say it. */
export const runAccountStates = {
  waiting: 'waiting',
  issued: 'issued',
  issued_before: 'issued already',
  nothing_to_tell: 'nothing to tell',
  failed: 'not issued',
} as const satisfies Record<RunAccountState, string>;

export interface StatementRunHead extends FoundStatementRun {
  readonly counts: Readonly<Record<RunAccountState, number>>;
  readonly accountsTotal: number;
  /** Nothing of it waits any more. */
  readonly finished: boolean;
}

export interface StatementRunView extends StatementRunHead {
  /** By name. */
  readonly accounts: readonly RunAccount[];
  /** Of its statements, how many have been mailed or are about to be. */
  readonly mailed: number;
}

export interface RunAccount extends RunAccountRow {
  readonly mailed: boolean;
}

/** A run of statements with its progress. */
export function readStatementRun(
  services: Services,
  actor: Actor,
  id: StatementRunId,
): Promise<Result<StatementRunView>> {
  return performAsStaff(services, actor, 'see_statements', async ({ tx }) => {
    const found = await findStatementRun(tx, id);
    if (found === null) return refuse('not_found', 'There is no such run of statements.');
    return ok(await statementRunViewOf(tx, id));
  });
}

export async function statementRunViewOf(
  tx: TenantTransaction,
  id: StatementRunId,
): Promise<StatementRunView> {
  const run = await findStatementRun(tx, id);
  if (run === null) throw new Error('a run of statements that was just there is gone');
  const rows = await listRunAccounts(tx, id);
  const mailed = await listMailedStatements(
    tx,
    rows.flatMap((each) => each.statementId ?? []),
  );
  const accounts = rows.map((row) => ({
    ...row,
    mailed: row.statementId !== null && mailed.has(row.statementId),
  }));
  return { ...(await statementRunHeadOf(tx, run)), accounts, mailed: mailed.size };
}

export async function statementRunHeadOf(
  tx: TenantTransaction,
  run: FoundStatementRun,
): Promise<StatementRunHead> {
  const found = await countRunAccounts(tx, run.id);
  const count = (state: RunAccountState) => found.get(state) ?? 0;
  const counts = {
    waiting: count('waiting'),
    issued: count('issued'),
    issued_before: count('issued_before'),
    nothing_to_tell: count('nothing_to_tell'),
    failed: count('failed'),
  };
  const accountsTotal = Object.values(counts).reduce((sum, each) => sum + each, 0);
  return { ...run, counts, accountsTotal, finished: counts.waiting === 0 };
}
