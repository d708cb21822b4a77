import { findEstimate, listUnansweredEstimates } from '@grainwright/db';
import {
  dayWords,
  ok,
  type PersonId,
  type Result,
  type TenantId,
  type WorkOrderId,
} from '@grainwright/domain';
import { jobScope } from '../job-scope.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import { inTenant, type SweepServices } from './sweep-scope.ts';

const atOnceMax = 200;

/**
 * Lets every estimate lapse that nobody answered until its last day: its work order is written up again, with prices of
 * the day when it is sent again. Answers how many.
 */
export async function lapseEstimates(services: SweepServices, tenantId: TenantId): Promise<Result<number>> {
  const found = await inTenant(services, tenantId, async ({ tx, today }) =>
    ok(await listUnansweredEstimates(tx, today, atOnceMax)),
  );
  if (!found.ok) return found;
  let lapsed = 0;
  for (const { workOrderId, madeBy } of found.value) {
    const done = await lapse(services, tenantId, workOrderId, madeBy);
    if (!done.ok) return done;
    if (done.value) lapsed += 1;
  }
  return ok(lapsed);
}

/** False where it was answered, or sent again, meanwhile. */
function lapse(
  services: Pick<Services, 'database' | 'now' | 'newId'>,
  tenantId: TenantId,
  workOrderId: WorkOrderId,
  madeBy: PersonId,
): Promise<Result<boolean>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const scope = await jobScope(services, tx, madeBy);
    const opened = await openWorkOrder(scope, workOrderId);
    if (!opened.ok) return opened;
    const { state, currentVersionId } = opened.value;
    if (state !== 'awaiting_approval' || currentVersionId === null) return ok(false);
    const sent = await findEstimate(tx, currentVersionId);
    if (sent === null) throw new Error('a work order waits for an answer to nothing');
    const { version, expiresOn } = sent.version;
    if (expiresOn >= scope.today) return ok(false);
    const note = `Nobody answered version ${version}, which was good through ${dayWords(expiresOn)}.`;
    const advanced = await advance(scope, opened.value, { type: 'lapsed' }, { currentVersionId: null }, note);
    return advanced.ok ? ok(true) : advanced;
  });
}
