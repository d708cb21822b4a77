import type { Result, TenantId } from '@grainwright/domain';
import { chainAudit, listTenants, type OpenedServices, sealDaysOver } from '@grainwright/operations';
import { type ParsedCronItem, parseCronItems, type Task } from 'graphile-worker';

/**
 * Audit records are chained every five minutes, days that are over are closed every ten: each one at a time over all
 * workers, and what was missed while none ran is done with the next.
 */
export const keepChainsSchedule: readonly ParsedCronItem[] = parseCronItems([
  {
    task: 'chain_audit',
    match: '*/5 * * * *',
    options: { maxAttempts: 1, queueName: 'chain_audit', jobKey: 'chain_audit', backfillPeriod: 0 },
  },
  {
    task: 'close_seal_days',
    match: '*/10 * * * *',
    options: { maxAttempts: 1, queueName: 'close_seal_days', jobKey: 'close_seal_days', backfillPeriod: 0 },
  },
]);

type Opened = Pick<OpenedServices, 'services'>;

/** Chains what was recorded since the last time, business by business. */
export function chainAuditTask({ services }: Opened): Task {
  return forEveryBusiness(services, 'chaining the audit records', (tenantId) =>
    chainAudit(services, tenantId),
  );
}

/** Seals what an earlier job left, as far as it can be, and puts each day that is over under its root, business by business. */
export function closeSealDaysTask({ services }: Opened): Task {
  return forEveryBusiness(services, 'closing the sealed days', async (tenantId) => {
    const closed = await sealDaysOver(services, tenantId);
    if (closed.ok && closed.value.unsealable !== null) throw closed.value.unsealable;
    return closed;
  });
}

/** One business that fails does not keep the others from their turn. */
function forEveryBusiness(
  services: OpenedServices['services'],
  what: string,
  work: (tenantId: TenantId) => Promise<Result<unknown>>,
): Task {
  return async (_payload, { logger }) => {
    const tenants = await listTenants(services);
    if (!tenants.ok) throw new Error(tenants.problem.detail);
    let failed = 0;
    for (const { id } of tenants.value) {
      try {
        const done = await work(id);
        if (!done.ok) throw new Error(done.problem.detail);
      } catch (error) {
        failed += 1;
        logger.error(`${what} of business ${id} failed: ${String(error)}`);
      }
    }
    if (failed > 0) throw new Error(`${what} failed for ${failed} businesses`);
  };
}
