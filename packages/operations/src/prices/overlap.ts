import { addDays, type Day, fromTheStart, type Period, type Result, refuse } from '@grainwright/domain';

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

/** The refusal of a period that leaves days without a price after the one before it, naming both. */
export function refuseGap(
  what: string,
  before: Period & { readonly to: Day },
  after: Period,
  field = 'valid_from',
): Extract<Result<never>, { ok: false }> {
  const [first, last] = [addDays(before.to, 1), addDays(after.from, -1)];
  return refuse(
    'dates_out_of_order',
    `There is ${what} for ${periodWords(before)}; with ${periodWords(after)} nothing would hold for ${periodWords({ from: first, to: last })}. Let one follow the other without a day between.`,
    field,
  );
}

/** The gap that two neighboring periods leave; null where there is none, or where the first has no end. */
export function leavesGap(before: Period, after: Period): (Period & { readonly to: Day }) | null {
  const { from, to } = before;
  return to !== null && addDays(to, 1) < after.from ? { from, to } : null;
}

function periodWords({ from, to }: Period): string {
  if (from === fromTheStart) return to === null ? 'all days' : `all days to ${to}`;
  return to === null ? `${from} onward` : `${from} to ${to}`;
}
