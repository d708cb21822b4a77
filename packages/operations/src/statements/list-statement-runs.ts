import { listStatementRuns as listRuns } from '@grainwright/db';
import { ok, type Result, type StatementRunId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type StatementRunHead, statementRunHeadOf } from './read-statement-run.ts';

export interface StatementRunList {
  readonly rows: readonly StatementRunHead[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: StatementRunId | null;
}

const runsOfAPage = 12;

/** Runs of statements with their counts, the latest first. `before` is the `next` of the page before. */
export function listStatementRuns(
  services: Services,
  actor: Actor,
  before: StatementRunId | null,
): Promise<Result<StatementRunList>> {
  return performAsStaff(services, actor, 'see_statements', async ({ tx }) => {
    const found = await listRuns(tx, before, runsOfAPage + 1);
    const rows: StatementRunHead[] = [];
    for (const run of found.slice(0, runsOfAPage)) rows.push(await statementRunHeadOf(tx, run));
    return ok({ rows, next: found.length > runsOfAPage ? (rows.at(-1)?.id ?? null) : null });
  });
}
