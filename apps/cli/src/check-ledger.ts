import { isUuid, ok, type Result, refuse, type TenantId, toId } from '@grainwright/domain';
import { checkLedger, listTenants } from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

/** Proves the books of one business or of all. Exit code 0 only when everything holds. */
export function checkLedgerCommand(settings: CliSettings, args: readonly string[]): Promise<Result<number>> {
  return withServices(settings, async (services) => {
    const asked = args[0] === '--tenant' ? (args[1] ?? '') : null;
    if (asked !== null && !isUuid(asked))
      return refuse('invalid_input', 'Give the business’s id behind --tenant, a UUID.', 'tenant');
    const tenants = await listTenants(services);
    if (!tenants.ok) return tenants;
    const ids = asked === null ? tenants.value.map((tenant) => tenant.id) : [toId<TenantId>(asked)];
    let faults = 0;
    for (const id of ids) {
      const report = await checkLedger(services, id);
      if (!report.ok) return report;
      const { business, ledgerAccounts, customerAccounts, statements } = report.value;
      process.stdout.write(
        `${business}: ${ledgerAccounts} ledger accounts, ${customerAccounts} accounts, ${statements} statements checked, ${report.value.faults.length} faults\n`,
      );
      for (const fault of report.value.faults) process.stdout.write(`  ${fault}\n`);
      faults += report.value.faults.length;
    }
    return ok(faults === 0 ? 0 : 1);
  });
}
