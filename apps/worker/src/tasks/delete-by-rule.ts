import { deleteByRule, listTenants, type OpenedServices } from '@grainwright/operations';
import type { ParsedCronItem, Task } from 'graphile-worker';
import { parseCronItems } from 'graphile-worker';

/** Once a day, one at a time over all workers; what was missed while none ran is done the next day. */
export const deleteByRuleSchedule: readonly ParsedCronItem[] = parseCronItems([
  {
    task: 'delete_by_rule',
    match: '40 8 * * *',
    options: { maxAttempts: 1, queueName: 'delete_by_rule', jobKey: 'delete_by_rule', backfillPeriod: 0 },
  },
]);

/** Deletes what the rules let go, business by business, where its owner switched that on. */
export function deleteByRuleTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (_payload, { logger }) => {
    const tenants = await listTenants(services);
    if (!tenants.ok) throw new Error(tenants.problem.detail);
    const failed: string[] = [];
    for (const { id } of tenants.value) {
      try {
        const deleted = await deleteByRule(services, id);
        if (!deleted.ok) throw new Error(deleted.problem.detail);
        if (deleted.value.count > 0)
          logger.info(`business ${id}: ${deleted.value.count} things deleted by its rules`);
      } catch (error) {
        failed.push(id);
        logger.error(`deleting by the rules of business ${id} failed: ${String(error)}`);
      }
    }
    if (failed.length > 0) throw new Error(`deleting by the rules failed for ${failed.length} businesses`);
  };
}
