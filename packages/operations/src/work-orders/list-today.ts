import { listStops } from '@grainwright/db';
import { type Day, ok, type PersonId, parseDay, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadStops, type StopView } from './load-stops.ts';

/** A technician’s day: the stops in their order, at each the vehicles in the order written up. */
export interface TodayView {
  readonly currency: string;
  readonly day: Day;
  readonly stops: readonly StopView[];
}

const stopsMax = 60;

/** The actor's own stops of a day, today's unless said otherwise, with what is left to do at each. */
export function listToday(
  services: Services,
  actor: Actor,
  input: { readonly day?: string | undefined } = {},
): Promise<Result<TodayView>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const { tx, today, business } = scope;
    const day = input.day === undefined || input.day === '' ? ok(today) : parseDay(input.day, 'day');
    if (!day.ok) return day;
    const rows = await listStops(tx, { technicianId: actor.personId, day: day.value }, stopsMax);
    return ok({ currency: business.currency, day: day.value, stops: await loadStops(scope, rows) });
  });
}

/** The day of every technician who has stops, by name. */
export interface DayView {
  readonly currency: string;
  readonly day: Day;
  readonly technicians: readonly {
    readonly id: PersonId;
    readonly name: string;
    readonly stops: readonly StopView[];
  }[];
}

const allStopsMax = 300;

/** Everybody’s stops of a day, today's unless said otherwise: what the office plans by. */
export function listDay(
  services: Services,
  actor: Actor,
  input: { readonly day?: string | undefined } = {},
): Promise<Result<DayView>> {
  return performAsStaff(services, actor, 'see_all_work_orders', async (scope) => {
    const { tx, today, business } = scope;
    const day = input.day === undefined || input.day === '' ? ok(today) : parseDay(input.day, 'day');
    if (!day.ok) return day;
    const stops = await loadStops(scope, await listStops(tx, { day: day.value }, allStopsMax));
    const byTechnician = Map.groupBy(stops, ({ technician }) => technician.id);
    const technicians = [...byTechnician.values()].flatMap((own) => {
      const [first] = own;
      return first === undefined ? [] : [{ ...first.technician, stops: own }];
    });
    return ok({ currency: business.currency, day: day.value, technicians });
  });
}
