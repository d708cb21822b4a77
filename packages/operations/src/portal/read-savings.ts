import { type QuotedReplacement, sumQuotedReplacements } from '@grainwright/db';
import { type Day, ok, type Result, type Savings, savings } from '@grainwright/domain';
import { type Actor, performAsContact } from '../perform.ts';
import { type ReportDaysInput, readReportDays } from '../reports/read-report-days.ts';
import type { Services } from '../services.ts';

/** What new parts were quoted at against what the repairs came to, both before tax. Minor units of `currency`. */
export interface SavingsView extends QuotedReplacement {
  readonly currency: string;
  readonly from: Day;
  readonly to: Day;
  /** Null where no quote is on record. */
  readonly saved: Savings | null;
}

/** Of the vehicles of the own account that were invoiced in a period; those without a quote are not counted. */
export function readSavings(
  services: Services,
  actor: Actor,
  input: ReportDaysInput,
): Promise<Result<SavingsView>> {
  return performAsContact(services, actor, 'see_invoices', async ({ tx, member, business }) => {
    const days = readReportDays(input);
    if (!days.ok) return days;
    const { from, to } = days.value;
    const { accountId } = member;
    const quoted = (await sumQuotedReplacements(tx, [accountId], from, to)).get(accountId);
    const sums = quoted ?? { vehicles: 0, quotedMinor: 0n, repairsMinor: 0n };
    const saved = savings(sums.quotedMinor, sums.repairsMinor);
    return ok({ ...sums, currency: business.currency, from, to, saved });
  });
}
