import { type StatementAccount, sumMovementsByMonth } from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type Day,
  firstDay,
  lastDay,
  type Month,
  type MonthFigures,
  monthFigures,
  monthOf,
  ok,
  type Result,
} from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { openStatementAccount } from './read-statement.ts';

/** The months of an account with their figures, the latest first. Amounts are minor units of `currency`. */
export interface StatementList {
  readonly account: StatementAccount;
  readonly currency: string;
  readonly months: readonly MonthFigures[];
}

const monthsMax = 24;

/** From the account's first posting to this month, at most two years; for a contact only of the own account. */
export function listStatements(
  services: Services,
  actor: Actor,
  accountId: AccountId,
): Promise<Result<StatementList>> {
  return perform(services, actor, 'see_statements', async ({ tx, actor, business, today }) => {
    const account = await openStatementAccount({ tx, actor }, accountId);
    if (!account.ok) return account;
    const twoYears = latestMonths(today, monthsMax);
    const first = twoYears.at(-1) ?? monthOf(today);
    const movements = await sumMovementsByMonth(tx, accountId, firstDay(first), lastDay(monthOf(today)));
    const earliest = movements.map((movement) => movement.month ?? first).toSorted()[0] ?? monthOf(today);
    const months = twoYears.filter((month) => month >= earliest).toReversed();
    return ok({
      account: account.value,
      currency: business.currency,
      months: monthFigures(months, movements).toReversed(),
    });
  });
}

function latestMonths(today: Day, count: number): readonly Month[] {
  const months = [monthOf(today)];
  for (let month = monthOf(today); months.length < count; months.push(month))
    month = monthOf(addDays(firstDay(month), -1));
  return months;
}
