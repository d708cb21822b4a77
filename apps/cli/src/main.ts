import { type Result, refuse } from '@grainwright/domain';
import { checkLedgerCommand } from './check-ledger.ts';
import { checkSealsCommand } from './check-seals.ts';
import { createTenantCommand } from './create-tenant.ts';
import { exportLedgerCommand } from './export-ledger.ts';
import { retentionCommand } from './retention.ts';
import { runStatementsCommand } from './run-statements.ts';
import { type CliSettings, readCliSettings } from './settings.ts';
import { start, startParts } from './start.ts';
import { sweepStorageCommand } from './sweep-storage.ts';
import { verifyEvidenceCommand } from './verify-evidence.ts';

const usage = `Usage:
  npm start [-- --demo]                    everything: database, demo on first run, web and worker
  npm run cli -- tenant create --name NAME --owner-name NAME --owner-email ADDRESS [--time-zone ZONE]
                                           a new business; the owner's password is read from PASSWORD
  npm run cli -- ledger check [--tenant ID]
                                           proves that every ledger balances and every cached figure equals its sum
  npm run cli -- seals check [--tenant ID]
                                           walks the chains of seals, sealed days and audit records, and names the first break
  npm run cli -- statements run --tenant ID --month MONTH [--account SHORT]
                                           issues the statements of a month that is over, a line for each account
  npm run cli -- ledger export --month YYYY-MM [--tenant ID]
                                           the journal of a month as CSV, on standard output
  npm run cli -- evidence verify FILE [--day DIGEST] [--key KEY]
                                           checks an evidence pack by what lies in it, and by what was printed elsewhere
  npm run cli -- storage sweep [--dry-run] [--tenant ID]
                                           removes what the storage holds that no record names; --dry-run lists it
  npm run cli -- retention --dry-run [--on YYYY-MM-DD] [--tenant ID]
                                           what the rules would delete on a day: work order, kind, count, bytes
  npm run cli -- retention --run [--tenant ID]
                                           deletes it, where the owner of the business switched that on
Settings: PORT, HOST, DATA_DIR, DATABASE_URL.
`;

async function main(args: readonly string[]): Promise<number> {
  const settings = readCliSettings(process.env);
  if (!settings.ok) return told(settings);
  const [first, second, ...rest] = args;
  const command = [first, second?.startsWith('--') ? undefined : second]
    .filter((word) => word !== undefined)
    .join(' ');
  switch (command) {
    case 'start':
      return told(await startCommand(settings.value, args));
    case 'tenant create':
      return told(await createTenantCommand(settings.value, rest));
    case 'ledger check':
      return told(await checkLedgerCommand(settings.value, rest));
    case 'seals check':
      return told(await checkSealsCommand(settings.value, rest));
    case 'statements run':
      return told(await runStatementsCommand(settings.value, rest));
    case 'retention':
      return told(await retentionCommand(settings.value, args.slice(1)));
    case 'ledger export':
      return told(await exportLedgerCommand(settings.value, rest));
    case 'evidence verify':
      return told(await verifyEvidenceCommand(rest));
    case 'storage sweep':
      return told(await sweepStorageCommand(settings.value, rest));
    default:
      process.stderr.write(usage);
      return 2;
  }
}

async function startCommand(settings: CliSettings, args: readonly string[]): Promise<Result<number>> {
  const named = args.includes('--only') ? (args[args.indexOf('--only') + 1] ?? '') : null;
  const only = startParts.find((part) => part === named) ?? null;
  if (named !== null && only === null)
    return refuse('invalid_input', `Write --only with one of ${startParts.join(', ')}.`);
  return start(settings, { wantsDemo: args.includes('--demo'), only });
}

/** A command answers its exit code; what stands in its way is one sentence on stderr. */
function told(result: Result<number>): number {
  if (result.ok) return result.value;
  process.stderr.write(`${result.problem.detail}\n`);
  return 1;
}

// Whoever reads along may stop: “… | head”. That is no fault of the command.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(process.exitCode ?? 0);
});

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  process.exitCode = 1;
}
