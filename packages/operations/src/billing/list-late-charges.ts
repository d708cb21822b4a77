import { type Decimal, ok, type Result, sumMinor } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type LateChargeDue, lateChargesDue } from './late-charges-due.ts';

export interface LateChargeList {
  /** Zero: the business charges nothing for paying late. */
  readonly percent: Decimal;
  readonly graceDays: number;
  readonly rows: readonly LateChargeDue[];
  readonly totalMinor: bigint;
  readonly currency: string;
}

/** What `chargeLate` would charge today. Changes nothing. */
export function listLateCharges(services: Services, actor: Actor): Promise<Result<LateChargeList>> {
  return performAsStaff(services, actor, 'see_payments', async (scope) => {
    const { lateChargePercent, lateChargeGraceDays, currency } = scope.business;
    const rows = await lateChargesDue(scope);
    return ok({
      percent: lateChargePercent,
      graceDays: lateChargeGraceDays,
      rows,
      totalMinor: sumMinor(rows.map((row) => row.amountMinor)),
      currency,
    });
  });
}
