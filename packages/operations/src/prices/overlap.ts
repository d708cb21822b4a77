import {
  addDays,
  type Day,
  dayWords,
  fromTheStart,
  ok,
  type Period,
  type Result,
  refuse,
} from '@grainwright/domain';

/** What counts for a time, for sentences: “VC-M” counts, and “a rate” would overlap it. */
export interface Counted {
  readonly what: string;
  readonly another: string;
}

/** Whether two periods share a day. */
export function periodsOverlap(a: Period, b: Period): boolean {
  return (a.to === null || b.from <= a.to) && (b.to === null || a.from <= b.to);
}

/**
 * Whether a period fits among those that are there. Refuses with `duplicate` one that overlaps another, and where
 * `gaps` are refused with `dates_out_of_order` one that leaves days between, naming both periods and those days.
 */
export function fitAmong(
  counted: Counted,
  given: Period,
  there: readonly Period[],
  gaps: 'refused' | 'allowed',
): Result<void> {
  const clash = there.find((each) => periodsOverlap(each, given));
  if (clash !== undefined) return refuseOverlap(counted, given, clash);
  if (gaps === 'allowed') return ok(undefined);
  const before = there
    .filter((each) => each.from < given.from)
    .toSorted(byStart)
    .at(-1);
  const after = there.filter((each) => each.from > given.from).toSorted(byStart)[0];
  const gapBefore = before === undefined ? null : leavesGap(before, given);
  if (gapBefore !== null) return refuseGap(counted, gapBefore, given);
  const gapAfter = after === undefined ? null : leavesGap(given, after);
  if (gapAfter === null || after === undefined) return ok(undefined);
  return refuseGap(counted, gapAfter, after, 'valid_to');
}

function byStart(a: Period, b: Period): number {
  return a.from < b.from ? -1 : 1;
}

/** A stored period as the rules compare it. */
export function periodOf({
  validFrom,
  validTo,
}: {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}): Period {
  return { from: validFrom, to: validTo };
}

/** The refusal of a period that overlaps one that is there, naming both. */
export function refuseOverlap(
  { what, another }: Counted,
  given: Period,
  there: Period,
): Extract<Result<never>, { ok: false }> {
  return refuse(
    'duplicate',
    `${what} counts ${periodWords(there)} already; ${another} ${periodWords(given)} would overlap it. Choose other days, or end the one that is there first.`,
    'valid_from',
  );
}

/** The refusal of a period that leaves days without a price after the one before it, naming both and the days. */
export function refuseGap(
  { what, another }: Counted,
  before: Period & { readonly to: Day },
  after: Period,
  field = 'valid_from',
): Extract<Result<never>, { ok: false }> {
  const missing = { from: addDays(before.to, 1), to: addDays(after.from, -1) };
  const none = another.replace(/^an? /, '');
  return refuse(
    'dates_out_of_order',
    `${what} counts ${periodWords(before)}, and ${another} ${periodWords(after)} leaves days out: ${missing.from === missing.to ? `on ${dayWords(missing.from)}` : periodWords(missing)} there would be no ${none}. Let one follow the other without a day between.`,
    field,
  );
}

/** The gap that two neighboring periods leave; null where there is none, or where the first has no end. */
export function leavesGap(before: Period, after: Period): (Period & { readonly to: Day }) | null {
  const { from, to } = before;
  return to !== null && addDays(to, 1) < after.from ? { from, to } : null;
}

/** “from Mar 1, 2026 on”, “from Mar 1 to Jun 30, 2026”. */
function periodWords({ from, to }: Period): string {
  if (to === null) return from === fromTheStart ? 'on all days' : `from ${dayWords(from)} on`;
  if (from === fromTheStart) return `up to ${dayWords(to)}`;
  return from.slice(0, 4) === to.slice(0, 4)
    ? `from ${dayWords(from).replace(/, \d+$/, '')} to ${dayWords(to)}`
    : `from ${dayWords(from)} to ${dayWords(to)}`;
}
