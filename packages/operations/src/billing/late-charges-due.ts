import { listPastDue, type PastDueInvoice } from '@grainwright/db';
import { addDays, firstDay, lateCharge, monthOf } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** What this month may still be charged on an invoice that is paid late. */
export interface LateChargeDue extends PastDueInvoice {
  /** What is open of it and not disputed. */
  readonly baseMinor: bigint;
  readonly amountMinor: bigint;
}

const invoicesMax = 1000;

/** The charges of the running month by the business's own policy; none while its per cent is zero. */
export async function lateChargesDue(scope: Scope): Promise<readonly LateChargeDue[]> {
  const { tx, business, today } = scope;
  const policy = { percent: business.lateChargePercent, graceDays: business.lateChargeGraceDays };
  if (policy.percent.digits === 0n) return [];
  const late = await listPastDue(tx, {
    dueBefore: addDays(today, -policy.graceDays),
    month: firstDay(monthOf(today)),
    limit: invoicesMax,
  });
  return late.flatMap((invoice) => {
    const charge = lateCharge(invoice, policy, today);
    return charge === null ? [] : [{ ...invoice, ...charge }];
  });
}
