import { type PricePeriodKind, setLastDay, type TenantTransaction } from '@grainwright/db';
import { addDays, type Day, dayWords, ok, type Period, type Result, refuse } from '@grainwright/domain';
import { type Counted, leavesGap, refuseGap, refuseOverlap } from './overlap.ts';

/** A period as it is stored. */
export interface DatedRow {
  readonly id: string;
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

/**
 * Where a period without an end fits after those that are there: the id of the one that it ends the day before, or null
 * where the last one ends then anyway. Refuses with `duplicate` what overlaps a period that has an end or starts later,
 * and with `dates_out_of_order` what leaves days between, naming both periods.
 */
export function fitNext(
  counted: Counted,
  from: Day,
  periods: readonly DatedRow[],
): Result<{ readonly endedId: string | null }> {
  const given = { from, to: null };
  const last = periods.toSorted((a, b) => (a.validFrom < b.validFrom ? -1 : 1)).at(-1);
  if (last === undefined) return ok({ endedId: null });
  const there: Period = { from: last.validFrom, to: last.validTo };
  if (from <= there.from || (there.to !== null && from <= there.to))
    return refuseOverlap(counted, given, there);
  if (there.to === null) return ok({ endedId: last.id });
  const gap = leavesGap(there, given);
  return gap === null ? ok({ endedId: null }) : refuseGap(counted, gap, given);
}

/** Refuses a first day that is not still to come: what was priced stays as it was. */
export function checkStillToCome(from: Day, today: Day): Result<void> {
  if (from > today) return ok(undefined);
  return refuse(
    'dates_out_of_order',
    `The earliest first day is tomorrow, ${dayWords(addDays(today, 1))}: what was priced before stays.`,
    'valid_from',
  );
}

/** Ends what `fitNext` found, the day before the next period starts. */
export async function endBefore(
  tx: TenantTransaction,
  kind: PricePeriodKind,
  { endedId }: { readonly endedId: string | null },
  from: Day,
): Promise<void> {
  if (endedId !== null) await setLastDay(tx, kind, endedId, addDays(from, -1));
}
