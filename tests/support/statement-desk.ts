import type { AccountId, StatementRunId } from '@grainwright/domain';
import {
  issueStatements,
  readFrozenStatement,
  readStatementRun,
  runStatements,
  type StatementRunView,
} from '@grainwright/operations';
import { must } from './must.ts';
import type { Account } from './world-account.ts';
import type { Business } from './world-business.ts';

/** What a bookkeeper does with statements at the end of a month, in a few words each. */
export function statementDesk(business: Business) {
  const { world, bookkeeper, tenantId } = business;
  const { services } = world;
  const ask = (month: string, accounts: readonly Account[] | null, runId = world.newId<StatementRunId>()) =>
    runStatements(services, bookkeeper, {
      runId,
      month,
      accountIds: accounts === null ? null : accounts.map((account): AccountId => account.id),
    });
  const read = async (runId: StatementRunId) => must(await readStatementRun(services, bookkeeper, runId));
  return {
    ask,
    read,
    /** Asked for and issued at once. */
    run: async (month: string, accounts: readonly Account[] | null): Promise<StatementRunView> => {
      const { id } = must(await ask(month, accounts));
      must(await issueStatements(services, { tenantId, runId: id }));
      return read(id);
    },
    frozen: (account: Account, month: string) =>
      readFrozenStatement(services, bookkeeper, { accountId: account.id, month }),
  };
}

/** How it went for each account, by its name. */
export function outcomesOf(run: StatementRunView): Readonly<Record<string, string>> {
  return Object.fromEntries(
    run.accounts.map(({ accountName, state, problem }) => [
      accountName,
      problem === '' ? state : `${state}: ${problem}`,
    ]),
  );
}
