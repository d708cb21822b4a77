import { findAccountIdByShortName, findBusiness, lockOwners, type TenantTransaction } from '@grainwright/db';
import {
  type AccountId,
  dayAt,
  ok,
  type Result,
  refuse,
  type StatementRunId,
  type TenantId,
  toId,
} from '@grainwright/domain';
import type { Services } from '../services.ts';
import { issueStatements } from './issue-statements.ts';
import { type StatementRunView, statementRunViewOf } from './read-statement-run.ts';
import { askForStatements } from './run-statements.ts';

export interface CommandedRun {
  readonly tenantId: TenantId;
  readonly month: string;
  /** An account's short name; null: all that get statements by their terms. */
  readonly shortName: string | null;
}

/**
 * Issues the statements of a month at once and answers how it went, for administration: it asks for nobody's
 * permission, and the record says that an owner of the business did it.
 */
export async function runStatementsByCommand(
  services: Services,
  { tenantId, month, shortName }: CommandedRun,
): Promise<Result<StatementRunView>> {
  const asStaff = { role: 'staff', tenantId } as const;
  const runId = toId<StatementRunId>(services.newId());
  const asked = await services.database.withTenant(asStaff, async (tx) => {
    const scope = await commandScope(services, tx);
    if (!scope.ok) return scope;
    const accountIds = await namedAccounts(tx, shortName);
    return accountIds.ok
      ? askForStatements(scope.value, { runId, month, accountIds: accountIds.value })
      : accountIds;
  });
  if (!asked.ok) return asked;
  const issued = await issueStatements(services, { tenantId, runId });
  if (!issued.ok) return issued;
  return services.database.withTenant(asStaff, async (tx) => ok(await statementRunViewOf(tx, runId)));
}

async function commandScope({ now, newId }: Services, tx: TenantTransaction) {
  const business = await findBusiness(tx);
  if (business === null) return refuse('not_found', 'There is no such business.', 'tenant');
  const at = now();
  const today = dayAt(at, business.timeZone);
  const [owner] = await lockOwners(tx, today);
  if (owner === undefined) return refuse('not_found', 'The business has no owner any more.', 'tenant');
  const actor = { personId: owner, accountId: null, fromAddress: 'command line' };
  return ok({ tx, now: at, newId, actor, today });
}

async function namedAccounts(
  tx: TenantTransaction,
  shortName: string | null,
): Promise<Result<readonly AccountId[] | null>> {
  if (shortName === null) return ok(null);
  const id = await findAccountIdByShortName(tx, shortName);
  return id === null
    ? refuse('not_found', `There is no account “${shortName}”. Give its short name.`, 'account')
    : ok([id]);
}
