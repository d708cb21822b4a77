import { parseArgs } from 'node:util';
import { isUuid, ok, type Result, refuse, type TenantId, toId } from '@grainwright/domain';
import { listTenants, type StorageSwept, sweepOrphans } from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

/** As the worker does it by itself every hour. */
const ageMilliseconds = 3_600_000;

/** Removes, or with --dry-run only lists, what the storage holds that no record names, a line for each. */
export function sweepStorageCommand(settings: CliSettings, args: readonly string[]): Promise<Result<number>> {
  return withServices(settings, async (services) => {
    const asked = readAsked(args);
    if (!asked.ok) return asked;
    const { dryRun, tenantId } = asked.value;
    const tenants = await listTenants(services);
    if (!tenants.ok) return tenants;
    const lastWrittenBefore = new Date(Date.now() - ageMilliseconds);
    for (const { id, name } of tenants.value) {
      if (tenantId !== null && tenantId !== id) continue;
      const swept = await sweepOrphans(services, { tenantId: id, lastWrittenBefore, remove: !dryRun });
      if (!swept.ok) return swept;
      process.stdout.write(`${linesOf(name, swept.value, dryRun).join('\n')}\n`);
    }
    return ok(0);
  });
}

function linesOf(name: string, { objects, orphans, uploads }: StorageSwept, dryRun: boolean): string[] {
  const bytes = orphans.reduce((sum, orphan) => sum + orphan.bytes, 0);
  const [would, are] = dryRun ? ['would be removed', 'would be forgotten'] : ['removed', 'forgotten'];
  return [
    `${name}: ${objects} objects, ${orphans.length} without a record (${bytes} bytes) ${would}, ${uploads} uploads that nobody went on with ${are}`,
    ...orphans.map((orphan) => `  ${orphan.writtenAt.toISOString()} ${orphan.bytes} ${orphan.key}`),
  ];
}

function readAsked(
  args: readonly string[],
): Result<{ readonly dryRun: boolean; readonly tenantId: TenantId | null }> {
  const options = { 'dry-run': { type: 'boolean' }, tenant: { type: 'string' } } as const;
  try {
    const { values } = parseArgs({ args: [...args], options, strict: true });
    const { tenant, 'dry-run': dryRun = false } = values;
    if (tenant === undefined) return ok({ dryRun, tenantId: null });
    return isUuid(tenant)
      ? ok({ dryRun, tenantId: toId<TenantId>(tenant) })
      : refuse('invalid_input', 'Give the business’s id behind --tenant, a UUID.', 'tenant');
  } catch (error) {
    return refuse('invalid_input', error instanceof Error ? error.message : String(error));
  }
}
