import { listStops, setStopPlaces } from '@grainwright/db';
import {
  allows,
  type Day,
  ok,
  type PersonId,
  parseDay,
  placesOfStops,
  type Result,
  refuse,
  type VisitId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface OrderStopsInput {
  /** Whose day it is; the actor’s own where it is left out. Others’ days are for who sees all work orders. */
  readonly technicianId?: PersonId | undefined;
  readonly day: string;
  /** Every stop of that day, the first one first. */
  readonly visitIds: readonly VisitId[];
}

const stopsMax = 60;

/**
 * Puts a technician’s stops of a day in order. Refuses with `invalid_input` where the stops are others by now,
 * `invalid_date` or `not_allowed`.
 */
export function orderStops(
  services: Services,
  actor: Actor,
  { technicianId = actor.personId, ...input }: OrderStopsInput,
): Promise<Result<{ readonly day: Day; readonly visitIds: readonly VisitId[] }>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const { tx, member } = scope;
    if (technicianId !== actor.personId && !allows(member.role, 'see_all_work_orders'))
      return refuse('not_allowed', 'Only the office puts the stops of others in order.');
    const day = parseDay(input.day, 'day');
    if (!day.ok) return day;
    const stops = (await listStops(tx, { technicianId, day: day.value }, stopsMax)).map(({ visit }) => visit);
    const places = placesOfStops(
      stops.map(({ id }) => id),
      input.visitIds,
    );
    if (!places.ok) return places;
    await setStopPlaces(tx, places.value);
    const detail = { day: day.value, before: stops.map(({ id }) => id), after: [...input.visitIds] };
    await record(scope, 'stops_ordered', { kind: 'technician', id: technicianId }, detail);
    return ok({ day: day.value, visitIds: input.visitIds });
  });
}
