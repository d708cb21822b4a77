import { findWorkInHand } from '@grainwright/db';
import { ok, type Result, refuse, type SignerRole, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';
import { acceptanceFacts } from './acceptance-facts.ts';
import { type AcceptanceToShow, readAcceptanceToShow } from './acceptance-to-show.ts';

export interface ShownAcceptance extends Omit<AcceptanceToShow, 'canonical'> {
  readonly workOrder: WorkHeading;
  /** Who has to sign by the account's terms; null where either may. */
  readonly signer: SignerRole | null;
}

/**
 * What is put before whoever accepts the work. It is read in the vehicle owner's database role, to which no column
 * with a price is open; staff only open the door and say which work order. Refuses with `wrong_state`,
 * `already_accepted` or `line_missing`.
 */
export async function showAcceptance(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<ShownAcceptance>> {
  const opened = await performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const work = await findWorkInHand(scope.tx, workOrderId);
    if (work === null) return refuse('not_found', 'There is no such work order.');
    const facts = await acceptanceFacts(scope, work);
    if (!facts.ok) return facts;
    return ok({ workOrder: workHeading(work), rule: work.account.acceptanceRule, facts: facts.value });
  });
  if (!opened.ok) return opened;
  const { workOrder, rule, facts } = opened.value;
  const asOwner = { role: 'vehicle_owner', tenantId: actor.tenantId, workOrderId } as const;
  const read = await services.database.withTenant(asOwner, (tx) => readAcceptanceToShow(tx, facts));
  if (!read.ok) return read;
  const { shown, digest, parts } = read.value;
  return ok({ workOrder, signer: rule === 'none' ? null : rule, shown, digest, parts });
}
