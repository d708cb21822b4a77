import { listVisitsToAskDelegates, lockVisitsOf } from '@grainwright/db';
import {
  isDaytime,
  ok,
  type PersonId,
  type Result,
  type TenantId,
  type WorkOrderId,
} from '@grainwright/domain';
import { askDelegates } from '../approvals/ask-delegates.ts';
import { type AskedEstimate, askedEstimateOf, stillWaits } from '../approvals/asked-estimate.ts';
import { jobScope } from '../job-scope.ts';
import { inTenant, type SweepServices } from './sweep-scope.ts';

const atOnceMax = 100;

/**
 * Asks delegates about what waited already when their days began, by day only. Answers how many mails that are.
 */
export async function askThoseWhoStandIn(
  services: SweepServices,
  tenantId: TenantId,
): Promise<Result<number>> {
  const found = await inTenant(services, tenantId, async ({ tx, now, today, timeZone }) =>
    ok(isDaytime(now, timeZone) ? await listVisitsToAskDelegates(tx, today, atOnceMax) : []),
  );
  if (!found.ok) return found;
  let mails = 0;
  for (const { workOrderId, madeBy } of found.value) {
    const asked = await askAbout(services, tenantId, workOrderId, madeBy);
    if (!asked.ok) return asked;
    mails += asked.value;
  }
  return ok(mails);
}

function askAbout(
  services: SweepServices,
  tenantId: TenantId,
  workOrderId: WorkOrderId,
  madeBy: PersonId,
): Promise<Result<number>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const scope = await jobScope(services, tx, madeBy);
    const estimates: AskedEstimate[] = [];
    for (const { currentVersionId } of await lockVisitsOf(tx, [workOrderId]))
      if (currentVersionId !== null) estimates.push(await askedEstimateOf(scope, currentVersionId));
    return askDelegates(
      scope,
      services,
      estimates.filter((estimate) => stillWaits(estimate, scope)),
    );
  });
}
