import { findAttendedVisit, findWorkInHand, listDoneOfVisit } from '@grainwright/db';
import { type Day, ok, type Result, refuse, type VisitId } from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';
import { acceptanceFacts } from './acceptance-facts.ts';
import { type AcceptanceToShow, type FromTheBusiness, readAcceptanceToShow } from './acceptance-to-show.ts';

/** A finished vehicle of the visit, as it is shown and signed for. */
export interface ShownVehicle extends Omit<AcceptanceToShow, 'canonical'> {
  readonly workOrder: WorkHeading;
}

export interface ShownVisit {
  readonly visitId: VisitId;
  readonly day: Day;
  readonly accountName: string;
  readonly siteName: string;
  /** Those that wait for their acceptance, in the order written up; may be none. */
  readonly vehicles: readonly ShownVehicle[];
}

/**
 * What is put before the account’s representative who accepts several vehicles of a visit at once, each read in the
 * vehicle owner’s database role, to which no column with a price is open. Refuses with `signer_not_fitting` where every
 * owner signs for their own vehicle, or `not_found`.
 */
export async function showVisitAcceptance(
  services: Services,
  actor: Actor,
  visitId: VisitId,
): Promise<Result<ShownVisit>> {
  const opened = await performAsStaff(services, actor, 'take_acceptance', (scope) =>
    openVisit(scope, visitId),
  );
  if (!opened.ok) return opened;
  const { waiting, ...visit } = opened.value;
  const vehicles: ShownVehicle[] = [];
  for (const { workOrder, facts } of waiting) {
    const asOwner = {
      role: 'vehicle_owner',
      tenantId: actor.tenantId,
      workOrderId: facts.workOrderId,
    } as const;
    const read = await services.database.withTenant(asOwner, (tx) => readAcceptanceToShow(tx, facts));
    if (!read.ok) return read;
    const { shown, digest, parts } = read.value;
    vehicles.push({ workOrder, shown, digest, parts });
  }
  return ok({ ...visit, vehicles });
}

interface OpenedVisit extends Omit<ShownVisit, 'vehicles'> {
  readonly waiting: readonly { readonly workOrder: WorkHeading; readonly facts: FromTheBusiness }[];
}

async function openVisit(scope: Scope, visitId: VisitId): Promise<Result<OpenedVisit>> {
  const found = await findAttendedVisit(scope.tx, visitId);
  if (found === null) return refuse('not_found', 'There is no such visit.');
  const { visit, account, siteName } = found;
  if (account.acceptanceRule === 'vehicle_owner')
    return refuse(
      'signer_not_fitting',
      'Each vehicle’s owner signs for their own vehicle. Hand each work order over by itself.',
    );
  const waiting = [];
  for (const id of await listDoneOfVisit(scope.tx, visitId)) {
    const work = await findWorkInHand(scope.tx, id);
    if (work === null) throw new Error('a work order of the visit is gone');
    const facts = await acceptanceFacts(scope, work);
    if (!facts.ok) return facts;
    waiting.push({ workOrder: workHeading(work), facts: facts.value });
  }
  return ok({ visitId, day: visit.day, accountName: account.name, siteName, waiting });
}
