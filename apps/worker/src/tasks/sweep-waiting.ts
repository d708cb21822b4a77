import { listTenants, type OpenedServices, sweepWaiting } from '@grainwright/operations';
import type { ParsedCronItem, Task } from 'graphile-worker';
import { parseCronItems } from 'graphile-worker';

/** Every five minutes, one at a time over all workers; what was missed while none ran is not made up for. */
export const sweepWaitingSchedule: readonly ParsedCronItem[] = parseCronItems([
  {
    task: 'sweep_waiting',
    match: '*/5 * * * *',
    options: { maxAttempts: 1, queueName: 'sweep_waiting', jobKey: 'sweep_waiting', backfillPeriod: 0 },
  },
]);

/**
 * Looks at what waits for accounts, business by business. One that fails does not keep the others from their turn; the
 * next look is five minutes later.
 */
export function sweepWaitingTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (_payload, { logger }) => {
    const tenants = await listTenants(services);
    if (!tenants.ok) throw new Error(tenants.problem.detail);
    const failed: string[] = [];
    for (const { id } of tenants.value) {
      try {
        const swept = await sweepWaiting(services, id);
        if (!swept.ok) throw new Error(swept.problem.detail);
      } catch (error) {
        failed.push(id);
        logger.error(`looking at what waits of business ${id} failed: ${String(error)}`);
      }
    }
    if (failed.length > 0) throw new Error(`looking at what waits failed for ${failed.length} businesses`);
  };
}
