import { parseArgs } from 'node:util';
import {
  type Day,
  isUuid,
  ok,
  parseDay,
  type Result,
  refuse,
  retentionKinds,
  type TenantId,
  toId,
} from '@grainwright/domain';
import {
  type DueList,
  deleteByRule,
  listTenants,
  readDueByCommand,
  type Services,
} from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

interface Asked {
  readonly tenant: TenantId | null;
  readonly run: boolean;
  /** The day of a dry run; null: today. */
  readonly on: Day | null;
}

/** Lists what the rules would delete, business by business, or deletes it where the owner switched that on. */
export function retentionCommand(settings: CliSettings, args: readonly string[]): Promise<Result<number>> {
  return withServices(settings, async (services) => {
    const asked = readAsked(args);
    if (!asked.ok) return asked;
    const tenants = await listTenants(services);
    if (!tenants.ok) return tenants;
    const chosen = tenants.value.filter(({ id }) => asked.value.tenant === null || id === asked.value.tenant);
    if (chosen.length === 0 && asked.value.tenant !== null)
      return refuse('not_found', 'There is no such business.', 'tenant');
    for (const { id, name } of chosen) {
      const told = asked.value.run
        ? await run(services, id, name)
        : await dryRun(services, id, asked.value.on);
      if (!told.ok) return told;
      process.stdout.write(told.value);
    }
    return ok(0);
  });
}

function readAsked(args: readonly string[]): Result<Asked> {
  const options = {
    tenant: { type: 'string' },
    'dry-run': { type: 'boolean' },
    run: { type: 'boolean' },
    on: { type: 'string' },
  } as const;
  try {
    const { values } = parseArgs({ args: [...args], options, strict: true });
    const { tenant, run: runs = false, on } = values;
    if (tenant !== undefined && !isUuid(tenant))
      return refuse('invalid_input', 'Give the business’s id behind --tenant, a UUID.', 'tenant');
    if (runs === (values['dry-run'] ?? false))
      return refuse('invalid_input', 'Write --dry-run to list what would go, or --run to delete it.');
    if (runs && on !== undefined)
      return refuse('invalid_input', '--on is for a dry run: a run deletes what is over today.', 'on');
    const day = on === undefined ? ok(null) : parseDay(on, 'on');
    if (!day.ok) return day;
    return ok({ tenant: tenant === undefined ? null : toId<TenantId>(tenant), run: runs, on: day.value });
  } catch (error) {
    return refuse('invalid_input', error instanceof Error ? error.message : String(error));
  }
}

async function run(services: Services, id: TenantId, name: string): Promise<Result<string>> {
  const deleted = await deleteByRule(services, id);
  if (!deleted.ok) return deleted;
  const { isOn, count, bytes } = deleted.value;
  if (!isOn) return ok(`${name}: nothing is deleted, its owner has not switched the rules on\n`);
  return ok(`${name}: ${count} things, ${bytes} bytes deleted; the worker removes their bytes\n`);
}

async function dryRun(services: Services, id: TenantId, on: Day | null): Promise<Result<string>> {
  const due = await readDueByCommand(services, id, on);
  if (!due.ok) return due;
  const { business, isOn, groups, more } = due.value;
  const lines = groups.map(lineOf);
  const state = isOn ? 'on' : 'not switched on';
  return ok(
    [
      `${business}: rules ${state}, ${groups.length === 0 ? 'nothing' : `${groups.length} lines`} over on ${due.value.on}`,
      ...lines.map((line) => `  ${line}`),
      ...(more ? ['  and more'] : []),
      '',
    ].join('\n'),
  );
}

function lineOf(group: DueList['groups'][number]): string {
  const of =
    group.workOrderNumber === null ? (group.accountName ?? 'the business') : `WO-${group.workOrderNumber}`;
  const fate = group.held ? 'stays: legal hold' : 'goes';
  return `${of}: ${group.count} ${retentionKinds[group.kind]}, ${group.bytes} bytes, kept through ${group.keptThrough}, ${fate}`;
}
