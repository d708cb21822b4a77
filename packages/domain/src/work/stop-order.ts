import type { VisitId } from '../ids.ts';
import { ok, type Result, refuse } from '../result.ts';

/**
 * The places of the stops in a new order, from 1. It must name each stop of the day once: a stop that was added
 * meanwhile is not lost between the others.
 */
export function placesOfStops(
  stops: readonly VisitId[],
  wished: readonly VisitId[],
): Result<ReadonlyMap<VisitId, number>> {
  const complete =
    wished.length === stops.length &&
    new Set(wished).size === wished.length &&
    stops.every((stop) => wished.includes(stop));
  if (!complete)
    return refuse(
      'invalid_input',
      'The stops of this day are others by now. Look at them again, and then put them in order.',
      'visit_ids',
    );
  return ok(new Map(wished.map((stop, index) => [stop, index + 1])));
}

/** The stops with one of them moved by a place; null where there is none to move to. */
export function movedStop(
  stops: readonly VisitId[],
  stop: VisitId,
  way: 'earlier' | 'later',
): readonly VisitId[] | null {
  const from = stops.indexOf(stop);
  const to = way === 'earlier' ? from - 1 : from + 1;
  const other = stops[to];
  if (from < 0 || other === undefined) return null;
  return stops.map((each, index) => {
    if (index === from) return other;
    return index === to ? stop : each;
  });
}
