import type { RateRow } from '@grainwright/db';
import { ok, type Result, refuse, sizesOverlap } from '@grainwright/domain';
import { fitAmong, periodOf, periodsOverlap } from './overlap.ts';

export type NewRate = Omit<RateRow, 'tenantId'>;

/**
 * Whether a rate fits among the others: `duplicate` where periods of its code overlap, or sizes of its family for the
 * same part and material; `dates_out_of_order` where its code would be without a price between two periods.
 */
export function checkRate(rate: NewRate, others: readonly NewRate[]): Result<void> {
  const given = periodOf(rate);
  const sameCode = others.filter((other) => other.code === rate.code);
  const fits = fitAmong({ what: rate.code, another: 'a rate' }, given, sameCode.map(periodOf), 'refused');
  if (!fits.ok) return fits;
  const clash = others.find(
    (other) =>
      other.code !== rate.code && periodsOverlap(given, periodOf(other)) && sizesOverlap(rate, other),
  );
  if (clash === undefined) return ok(undefined);
  return refuse(
    'duplicate',
    `${clash.code} of the same family covers these sizes at that time. Give ${rate.code} other sizes, another part or material, or another family.`,
    'over_inches',
  );
}
