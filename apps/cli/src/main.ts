import type { Result } from '@grainwright/domain';
import { checkLedgerCommand } from './check-ledger.ts';
import { createTenantCommand } from './create-tenant.ts';
import { readCliSettings } from './settings.ts';
import { start } from './start.ts';

const usage = `Usage:
  npm start [-- --demo]                    everything: database, demo on first run, web and worker
  npm run cli -- tenant create --name NAME --owner-name NAME --owner-email ADDRESS [--time-zone ZONE]
                                           a new business; the owner's password is read from PASSWORD
  npm run cli -- ledger check [--tenant ID]
                                           proves that every ledger balances and every cached figure equals its sum
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
      return told(await start(settings.value, args.includes('--demo')));
    case 'tenant create':
      return told(await createTenantCommand(settings.value, rest));
    case 'ledger check':
      return told(await checkLedgerCommand(settings.value, rest));
    default:
      process.stderr.write(usage);
      return 2;
  }
}

/** A command answers its exit code; what stands in its way is one sentence on stderr. */
function told(result: Result<number>): number {
  if (result.ok) return result.value;
  process.stderr.write(`${result.problem.detail}\n`);
  return 1;
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  process.exitCode = 1;
}
