import { parseArgs } from 'node:util';
import { isUuid, ok, type Result, refuse, type TenantId, toId } from '@grainwright/domain';
import { runAccountStates, runStatementsByCommand, type StatementRunView } from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

/** Issues the statements of a month, with a line for each account. Exit code 0 only when none of them failed. */
export function runStatementsCommand(
  settings: CliSettings,
  args: readonly string[],
): Promise<Result<number>> {
  return withServices(settings, async (services) => {
    const asked = readAsked(args);
    if (!asked.ok) return asked;
    const run = await runStatementsByCommand(services, asked.value);
    if (!run.ok) return run;
    for (const account of run.value.accounts) process.stdout.write(`${lineOf(account)}\n`);
    if (run.value.accounts.length === 0) process.stdout.write('No account gets statements by its terms.\n');
    return ok(run.value.counts.failed === 0 ? 0 : 1);
  });
}

function readAsked(args: readonly string[]) {
  const options = {
    tenant: { type: 'string' },
    month: { type: 'string' },
    account: { type: 'string' },
  } as const;
  try {
    const { values } = parseArgs({ args: [...args], options, strict: true });
    if (values.tenant === undefined || !isUuid(values.tenant))
      return refuse('invalid_input', 'Give the business’s id behind --tenant, a UUID.', 'tenant');
    if (values.month === undefined)
      return refuse('invalid_input', 'Give the month behind --month, like 2026-10.', 'month');
    return ok({
      tenantId: toId<TenantId>(values.tenant),
      month: values.month,
      shortName: values.account ?? null,
    });
  } catch (error) {
    return refuse('invalid_input', error instanceof Error ? error.message : String(error));
  }
}

function lineOf({ shortName, accountName, state, problem }: StatementRunView['accounts'][number]): string {
  const why = problem === '' ? '' : `: ${problem}`;
  return `${shortName} ${accountName}: ${runAccountStates[state]}${why}`;
}
