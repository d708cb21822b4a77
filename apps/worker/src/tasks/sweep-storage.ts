import { listTenants, type OpenedServices, sweepOrphans } from '@grainwright/operations';
import type { ParsedCronItem, Task } from 'graphile-worker';
import { parseCronItems } from 'graphile-worker';

/** Once an hour, one at a time over all workers; what was missed while none ran is not made up for. */
export const sweepStorageSchedule: readonly ParsedCronItem[] = parseCronItems([
  {
    task: 'sweep_storage',
    match: '17 * * * *',
    options: { maxAttempts: 1, queueName: 'sweep_storage', jobKey: 'sweep_storage', backfillPeriod: 0 },
  },
]);

/** Longer than any request or job lasts: whatever was put earlier and has no row will not get one. */
const ageMilliseconds = 3_600_000;

/** More than processes leave that die; then somebody has to look (docs/operations.md). */
const orphansMax = 200;

/** Removes bytes that no row names, business by business. One that fails does not keep the others from their turn. */
export function sweepStorageTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (_payload, { logger }) => {
    const tenants = await listTenants(services);
    if (!tenants.ok) throw new Error(tenants.problem.detail);
    const lastWrittenBefore = new Date(Date.now() - ageMilliseconds);
    const failed: string[] = [];
    for (const { id } of tenants.value) {
      try {
        const asked = { tenantId: id, lastWrittenBefore, remove: true, orphansMax };
        const swept = await sweepOrphans(services, asked);
        if (!swept.ok) throw new Error(swept.problem.detail);
        const { orphans, uploads, removed } = swept.value;
        if (!removed)
          throw new Error(
            `${orphans.length} objects have no row, which is too many to remove unseen; look at “storage sweep --dry-run”`,
          );
        if (orphans.length > 0 || uploads > 0)
          logger.info(
            `of business ${id}: ${orphans.length} objects without a row and ${uploads} uploads are gone`,
          );
      } catch (error) {
        failed.push(id);
        logger.error(`sweeping the storage of business ${id} failed: ${String(error)}`);
      }
    }
    if (failed.length > 0) throw new Error(`sweeping the storage failed for ${failed.length} businesses`);
  };
}
