import type { AccountId, Month, StatementId, StatementRunId } from '@grainwright/domain';
import { firstDay, lastDay, monthOf } from '@grainwright/domain';
import { and, asc, desc, eq, lte, ne, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people } from '../schema/accounts.ts';
import { statementRunAccounts, statementRuns } from '../schema/statements.ts';

type StoredRun = typeof statementRuns.$inferSelect;
export type RunAccountState = (typeof statementRunAccounts.$inferSelect)['state'];

export interface StatementRunRecord extends Omit<StoredRun, 'tenantId' | 'month'> {
  readonly month: Month;
}

/** False when the id is taken. */
export async function insertStatementRun(tx: TenantTransaction, run: StatementRunRecord): Promise<boolean> {
  const rows = await tx
    .insert(statementRuns)
    .values({ tenantId: tx.tenantId, ...run, month: firstDay(run.month) })
    .onConflictDoNothing()
    .returning({ id: statementRuns.id });
  return rows.length === 1;
}

/** The accounts that get statements by their terms and were there in the month. */
export async function listAccountsForStatements(
  tx: TenantTransaction,
  month: Month,
): Promise<readonly AccountId[]> {
  const rows = await tx
    .select({ id: accounts.id })
    .from(accounts)
    .where(
      and(
        eq(accounts.tenantId, tx.tenantId),
        ne(accounts.statementKind, 'none'),
        lte(accounts.openedOn, lastDay(month)),
      ),
    )
    .orderBy(asc(accounts.id));
  return rows.map((row) => row.id);
}

export async function insertRunAccounts(
  tx: TenantTransaction,
  runId: StatementRunId,
  accountIds: readonly AccountId[],
): Promise<void> {
  if (accountIds.length === 0) return;
  await tx
    .insert(statementRunAccounts)
    .values(accountIds.map((accountId) => ({ tenantId: tx.tenantId, runId, accountId })));
}

export interface FoundStatementRun extends StatementRunRecord {
  readonly askedByName: string;
}

export async function findStatementRun(
  tx: TenantTransaction,
  id: StatementRunId,
): Promise<FoundStatementRun | null> {
  const [row] = await selectRuns(tx).where(
    and(eq(statementRuns.tenantId, tx.tenantId), eq(statementRuns.id, id)),
  );
  return row === undefined ? null : { ...row, month: monthOf(row.month) };
}

/** Until the transaction ends nobody else who asks for this run's lock gets it; false where there is no such run. */
export async function lockStatementRun(tx: TenantTransaction, id: StatementRunId): Promise<boolean> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`statement_runs ${id}`}, 0))`);
  return (await findStatementRun(tx, id)) !== null;
}

/** The latest first, from after the run that the page before ended with. */
export async function listStatementRuns(
  tx: TenantTransaction,
  before: StatementRunId | null,
  limit: number,
): Promise<readonly FoundStatementRun[]> {
  const rows = await selectRuns(tx)
    .where(
      and(
        eq(statementRuns.tenantId, tx.tenantId),
        before === null
          ? undefined
          : sql`(${statementRuns.askedAt}, ${statementRuns.id}) < (select r.asked_at, r.id from statement_runs r
              where r.tenant_id = ${tx.tenantId} and r.id = ${before})`,
      ),
    )
    .orderBy(desc(statementRuns.askedAt), desc(statementRuns.id))
    .limit(limit);
  return rows.map((row) => ({ ...row, month: monthOf(row.month) }));
}

function selectRuns(tx: TenantTransaction) {
  return tx
    .select({
      id: statementRuns.id,
      month: statementRuns.month,
      allAccounts: statementRuns.allAccounts,
      askedBy: statementRuns.askedBy,
      askedAt: statementRuns.askedAt,
      askedByName: people.name,
    })
    .from(statementRuns)
    .innerJoin(
      people,
      and(eq(people.tenantId, statementRuns.tenantId), eq(people.id, statementRuns.askedBy)),
    );
}

/** How many accounts of a run stand where. */
export async function countRunAccounts(
  tx: TenantTransaction,
  runId: StatementRunId,
): Promise<ReadonlyMap<RunAccountState, number>> {
  const rows = await tx
    .select({ state: statementRunAccounts.state, count: sql<number>`count(*)::integer` })
    .from(statementRunAccounts)
    .where(and(eq(statementRunAccounts.tenantId, tx.tenantId), eq(statementRunAccounts.runId, runId)))
    .groupBy(statementRunAccounts.state);
  return new Map(rows.map(({ state, count }) => [state, count]));
}

export interface RunAccountRow {
  readonly accountId: AccountId;
  readonly shortName: string;
  readonly accountName: string;
  readonly state: RunAccountState;
  readonly statementId: StatementId | null;
  readonly problem: string;
}

/** By name. */
export async function listRunAccounts(
  tx: TenantTransaction,
  runId: StatementRunId,
): Promise<readonly RunAccountRow[]> {
  return tx
    .select({
      accountId: statementRunAccounts.accountId,
      shortName: accounts.shortName,
      accountName: accounts.name,
      state: statementRunAccounts.state,
      statementId: statementRunAccounts.statementId,
      problem: statementRunAccounts.problem,
    })
    .from(statementRunAccounts)
    .innerJoin(
      accounts,
      and(
        eq(accounts.tenantId, statementRunAccounts.tenantId),
        eq(accounts.id, statementRunAccounts.accountId),
      ),
    )
    .where(and(eq(statementRunAccounts.tenantId, tx.tenantId), eq(statementRunAccounts.runId, runId)))
    .orderBy(asc(accounts.name), asc(accounts.id));
}

/** Some of those that still wait and that nobody else is at, held until the transaction ends. */
export async function lockWaitingAccounts(
  tx: TenantTransaction,
  runId: StatementRunId,
  limit: number,
): Promise<readonly AccountId[]> {
  const rows = await tx
    .select({ accountId: statementRunAccounts.accountId })
    .from(statementRunAccounts)
    .where(
      and(
        eq(statementRunAccounts.tenantId, tx.tenantId),
        eq(statementRunAccounts.runId, runId),
        eq(statementRunAccounts.state, 'waiting'),
      ),
    )
    .orderBy(asc(statementRunAccounts.accountId))
    .limit(limit)
    .for('update', { skipLocked: true });
  return rows.map((row) => row.accountId);
}

export interface RunAccountOutcome {
  readonly accountId: AccountId;
  readonly state: Exclude<RunAccountState, 'waiting'>;
  readonly statementId: StatementId | null;
  readonly problem: string;
}

/** Writes how it went for several accounts of a run in one statement. */
export async function settleRunAccounts(
  tx: TenantTransaction,
  runId: StatementRunId,
  outcomes: readonly RunAccountOutcome[],
): Promise<void> {
  if (outcomes.length === 0) return;
  const list = (values: readonly (string | null)[]) =>
    sql`array[${sql.join(
      values.map((value) => sql`${value}`),
      sql`, `,
    )}]`;
  await tx.execute(sql`
    update statement_run_accounts r set state = o.state, statement_id = o.statement_id, problem = o.problem
    from unnest(${list(outcomes.map((each) => each.accountId))}::uuid[], ${list(outcomes.map((each) => each.state))}::text[],
      ${list(outcomes.map((each) => each.statementId))}::uuid[], ${list(outcomes.map((each) => each.problem))}::text[])
      as o (account_id, state, statement_id, problem)
    where r.tenant_id = ${tx.tenantId}::uuid and r.run_id = ${runId}::uuid and r.account_id = o.account_id`);
}
