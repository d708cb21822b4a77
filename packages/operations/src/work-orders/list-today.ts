import { listStops, listWorkOrderRowsOfDays } from '@grainwright/db';
import { addDays, type Day, ok, type PersonId, parseDay, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadStops, loadStopWorkOrders, type StopView, type StopWorkOrder } from './load-stops.ts';
import { onTheWay } from './next-tasks.ts';

/** A technician’s day: the stops in their order, at each the vehicles in the order written up. */
export interface TodayView {
  readonly currency: string;
  readonly day: Day;
  readonly stops: readonly StopView[];
  /** What is open from the days before, the oldest first; nothing where another day is looked at. */
  readonly left: LeftFromEarlier;
}

export interface LeftFromEarlier {
  readonly workOrders: readonly StopWorkOrder[];
  /** Whether there are more than are listed. */
  readonly more: boolean;
}

const stopsMax = 60;
const leftMax = 20;
const allLeftMax = 200;
const leftDays = 30;

/**
 * The actor's own stops of a day, today's unless said otherwise, with what is left to do at each; beside today's what is
 * left from the 30 days before: the first 20 work orders, or with `allLeft` up to 200.
 */
export function listToday(
  services: Services,
  actor: Actor,
  input: { readonly day?: string | undefined; readonly allLeft?: boolean } = {},
): Promise<Result<TodayView>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const { tx, today, business } = scope;
    const day = input.day === undefined || input.day === '' ? ok(today) : parseDay(input.day, 'day');
    if (!day.ok) return day;
    const rows = await listStops(tx, { technicianId: actor.personId, day: day.value }, stopsMax);
    const stops = await loadStops(scope, rows);
    const left =
      day.value === today
        ? await leftFromEarlier(scope, actor.personId, input.allLeft === true ? allLeftMax : leftMax)
        : { workOrders: [], more: false };
    return ok({ currency: business.currency, day: day.value, stops, left });
  });
}

async function leftFromEarlier(
  scope: Scope,
  technicianId: PersonId,
  rowsMax: number,
): Promise<LeftFromEarlier> {
  const { tx, today } = scope;
  const days = { technicianId, from: addDays(today, -leftDays), before: today, states: onTheWay };
  const rows = await listWorkOrderRowsOfDays(tx, days, rowsMax + 1);
  return {
    workOrders: await loadStopWorkOrders(scope, rows.slice(0, rowsMax)),
    more: rows.length > rowsMax,
  };
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
