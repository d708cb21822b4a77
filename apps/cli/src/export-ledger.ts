import { isUuid, ok, parseMonth, type Result, refuse, type TenantId, toId } from '@grainwright/domain';
import { exportLedgerOf, listTenants } from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

/** Writes the journal of a month as CSV to standard output: of the one business there is, or of the one named. */
export function exportLedgerCommand(settings: CliSettings, args: readonly string[]): Promise<Result<number>> {
  return withServices(settings, async (services) => {
    const month = parseMonth(optionOf(args, '--month') ?? '');
    if (!month.ok) return month;
    const asked = optionOf(args, '--tenant');
    if (asked !== undefined && !isUuid(asked))
      return refuse('invalid_input', 'Give the business’s id behind --tenant, a UUID.', 'tenant');
    const tenants = await listTenants(services);
    if (!tenants.ok) return tenants;
    const [only, another] = tenants.value;
    if (only === undefined) return refuse('not_found', 'There is no business yet.');
    if (asked === undefined && another !== undefined)
      return refuse('invalid_input', 'There are several businesses. Name one by --tenant ID.', 'tenant');
    const file = await exportLedgerOf(
      services,
      asked === undefined ? only.id : toId<TenantId>(asked),
      month.value,
    );
    if (!file.ok) return file;
    process.stdout.write(file.value.text);
    return ok(0);
  });
}

function optionOf(args: readonly string[], name: string): string | undefined {
  const place = args.indexOf(name);
  return place < 0 ? undefined : args[place + 1];
}
