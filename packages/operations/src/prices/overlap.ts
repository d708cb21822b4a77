import { type Period, type Result, refuse } from '@grainwright/domain';

/** Whether two periods share a day. */
export function periodsOverlap(a: Period, b: Period): boolean {
  return (a.to === null || b.from <= a.to) && (b.to === null || a.from <= b.to);
}

/** The refusal of a period that overlaps one that is there, naming both. `what` is the thing, e.g. “the rate VC-M”. */
export function refuseOverlap(
  what: string,
  given: Period,
  there: Period,
): Extract<Result<never>, { ok: false }> {
  return refuse(
    'duplicate',
    `There is ${what} for ${periodWords(there)} already; ${periodWords(given)} overlaps it. Choose days that don’t, or end the other one first.`,
    'valid_from',
  );
}

function periodWords(period: Period): string {
  return period.to === null ? `${period.from} onward` : `${period.from} to ${period.to}`;
}
