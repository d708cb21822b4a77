import {
  deleteEmptyStop,
  findOrInsertVisit,
  findPlace,
  findStaffMember,
  findStop,
  lockNumbers,
} from '@grainwright/db';
import {
  type AccountId,
  allows,
  ok,
  type PersonId,
  parseDay,
  type Result,
  refuse,
  type SiteId,
  type VisitId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadStops, type StopView } from './load-stops.ts';
import { checkOpen } from './read-write-up.ts';

export interface PlanStopInput {
  /** Made by the client. Where the technician goes there on that day already, that stop is meant. */
  readonly visitId: VisitId;
  /** Whose stop it is; the actor’s own where it is left out. Others’ days are for who sees all work orders. */
  readonly technicianId?: PersonId | undefined;
  readonly accountId: AccountId;
  readonly siteId: SiteId;
  readonly day: string;
  readonly afterHours: boolean;
  readonly rush: boolean;
}

/**
 * Puts a stop last on a technician’s day before its first vehicle is written up. Refuses with `not_allowed`,
 * `not_found` (no such place), `invalid_input` (who does not work there), `invalid_date` or `id_reused`.
 */
export function planStop(
  services: Services,
  actor: Actor,
  input: PlanStopInput,
): Promise<Result<StopView & { readonly currency: string }>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const technicianId = await readTechnician(scope, input.technicianId);
    if (!technicianId.ok) return technicianId;
    const place = await findPlace(scope.tx, input.accountId, input.siteId);
    if (place === null)
      return refuse(
        'not_found',
        'There is no such place of this account. Choose it from the list.',
        'site_id',
      );
    const day = parseDay(input.day.trim(), 'day');
    if (!day.ok) return day;
    const open = checkOpen(place, day.value, scope.today);
    if (!open.ok) return open;
    // Two at once come one after the other, so that each gets a place of its own.
    await lockNumbers(scope.tx, 'work_order');
    const visit = await findOrInsertVisit(scope.tx, {
      id: input.visitId,
      accountId: place.accountId,
      siteId: place.siteId,
      technicianId: technicianId.value,
      day: day.value,
      miles: place.miles,
      afterHours: input.afterHours,
      rush: input.rush,
      walkIn: place.walkIn,
    });
    if (visit === null)
      return refuse('id_reused', 'This stop’s id is another one’s. Send it under a new id.', 'id');
    const detail = { day: day.value, technician_id: technicianId.value };
    await record(scope, 'stop_planned', { kind: 'visit', id: visit.id }, detail);
    return readBack(scope, visit.id);
  });
}

/** Takes a stop off a day while no vehicle is written up there. Refuses with `wrong_state`, `not_allowed` or `not_found`. */
export function dropStop(
  services: Services,
  actor: Actor,
  visitId: VisitId,
): Promise<Result<{ readonly visitId: VisitId }>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const stop = await findStop(scope.tx, visitId);
    if (stop === null) return refuse('not_found', 'There is no such stop.');
    if (!mayPlanFor(scope, stop.visit.technicianId)) return notTheirs();
    if (!(await deleteEmptyStop(scope.tx, visitId)))
      return refuse(
        'wrong_state',
        'A vehicle is written up there, so the stop stays. Void the vehicle if it was a mistake.',
      );
    const { day, technicianId } = stop.visit;
    await record(scope, 'stop_dropped', { kind: 'visit', id: visitId }, { day, technician_id: technicianId });
    return ok({ visitId });
  });
}

async function readTechnician(scope: Scope, wished: PersonId | undefined): Promise<Result<PersonId>> {
  const technicianId = wished ?? scope.actor.personId;
  if (!mayPlanFor(scope, technicianId)) return notTheirs();
  const member = await findStaffMember(scope.tx, technicianId, scope.now);
  if (member !== null && allows(member.role, 'start_work')) return ok(technicianId);
  return refuse('invalid_input', 'Choose somebody who works at vehicles and is still here.', 'technician_id');
}

function mayPlanFor({ actor, member }: Scope, technicianId: PersonId): boolean {
  return technicianId === actor.personId || allows(member.role, 'see_all_work_orders');
}

function notTheirs() {
  return refuse('not_allowed', 'Only the office plans the days of others.');
}

async function readBack(
  scope: Scope,
  visitId: VisitId,
): Promise<Result<StopView & { readonly currency: string }>> {
  const row = await findStop(scope.tx, visitId);
  const [stop] = row === null ? [] : await loadStops(scope, [row]);
  if (stop === undefined) throw new Error('a stop that was planned is gone');
  return ok({ ...stop, currency: scope.business.currency });
}
