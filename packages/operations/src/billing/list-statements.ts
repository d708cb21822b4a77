import type { StatementAccount } from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type Day,
  firstDay,
  type Month,
  monthOf,
  ok,
  type Result,
} from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { openStatementAccount } from './read-statement.ts';
import { readAccountJournal, statementOf } from './statement-view.ts';

/** The months of an account with their figures, the latest first. Amounts are minor units of `currency`. */
export interface StatementList {
  readonly account: StatementAccount;
  readonly currency: string;
  readonly months: readonly {
    readonly month: Month;
    readonly openingMinor: bigint;
    readonly chargesMinor: bigint;
    readonly creditsMinor: bigint;
    readonly paymentsMinor: bigint;
    readonly closingMinor: bigint;
  }[];
}

const monthsMax = 24;

/** From the account's first posting to this month, at most two years; for a contact only of the own account. */
export function listStatements(
  services: Services,
  actor: Actor,
  accountId: AccountId,
): Promise<Result<StatementList>> {
  return perform(services, actor, 'see_statements', async (scope) => {
    const account = await openStatementAccount(scope, accountId);
    if (!account.ok) return account;
    const journal = await readAccountJournal(scope, account.value);
    const days = journal.entries.map((entry) => entry.occurredOn);
    const months = monthsBack(scope.today, days.toSorted()[0] ?? scope.today).slice(0, monthsMax);
    return ok({
      account: account.value,
      currency: scope.business.currency,
      months: months.map((month) => {
        const statement = statementOf(scope, journal, month);
        const { openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor } = statement;
        return { month, openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor };
      }),
    });
  });
}

/** Every month from that of `latest` back to that of `earliest`. */
export function monthsBack(latest: Day, earliest: Day): readonly Month[] {
  const months: Month[] = [];
  for (let month = monthOf(latest); month >= monthOf(earliest); month = monthOf(addDays(firstDay(month), -1)))
    months.push(month);
  return months;
}
