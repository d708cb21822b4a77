import { isUuid, ok, type Result, refuse, type TenantId, toId } from '@grainwright/domain';
import { checkSeals, listTenants } from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

/** Walks the chains of one business or of all. Exit code 0 only when everything holds. */
export function checkSealsCommand(settings: CliSettings, args: readonly string[]): Promise<Result<number>> {
  return withServices(settings, async (services) => {
    const asked = args[0] === '--tenant' ? (args[1] ?? '') : null;
    if (asked !== null && !isUuid(asked))
      return refuse('invalid_input', 'Give the business’s id behind --tenant, a UUID.', 'tenant');
    const tenants = await listTenants(services);
    if (!tenants.ok) return tenants;
    const ids = asked === null ? tenants.value.map((tenant) => tenant.id) : [toId<TenantId>(asked)];
    let faults = 0;
    for (const id of ids) {
      const report = await checkSeals(services, id);
      if (!report.ok) return report;
      const { business, seals, days, auditRecords, waiting, notes } = report.value;
      process.stdout.write(
        `${business}: ${seals} seals, ${days} sealed days and ${auditRecords} audit records checked, ${waiting} waiting, ${report.value.faults.length} faults\n`,
      );
      for (const note of notes) process.stdout.write(`  note: ${note}\n`);
      for (const fault of report.value.faults) process.stdout.write(`  ${fault}\n`);
      faults += report.value.faults.length;
    }
    return ok(faults === 0 ? 0 : 1);
  });
}
