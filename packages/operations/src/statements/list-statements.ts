import {
  listStatementHeads,
  type StatementAccount,
  type StatementHead,
  sumMovementsByMonth,
} from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type Day,
  firstDay,
  type Instant,
  lastDay,
  type Month,
  type MonthFigures,
  monthFigures,
  monthOf,
  ok,
  type Result,
} from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openStatementAccount } from './read-statement.ts';

/** The months of an account with their figures, the latest first. Amounts are minor units of `currency`. */
export interface StatementList {
  readonly account: StatementAccount;
  readonly currency: string;
  readonly months: readonly StatementMonth[];
}

export interface StatementMonth extends MonthFigures {
  /** When its statement was issued; null while it was not. */
  readonly issuedAt: Instant | null;
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
    const heads = await listStatementHeads(scope.tx, [accountId]);
    const months = await figuresOf(scope, accountId, heads);
    return ok({
      account: account.value,
      currency: scope.business.currency,
      months: months.toReversed(),
    });
  });
}

/** Earliest first: what was issued has its own figures, the months around it those that they would be issued with. */
async function figuresOf(
  scope: Scope,
  accountId: AccountId,
  heads: readonly StatementHead[],
): Promise<readonly StatementMonth[]> {
  const shown = latestMonths(scope.today, monthsMax);
  const [first] = heads;
  const last = heads.at(-1);
  if (first === undefined || last === undefined) return running(scope, accountId, shown, null);
  const before = shown.filter((month) => month < first.month);
  const after = shown.filter((month) => month > last.month);
  return [
    ...(await runningBefore(scope, accountId, before, first)),
    ...issued(heads).filter((month) => shown.includes(month.month)),
    ...(await running(scope, accountId, after, last)),
  ];
}

async function running(
  { tx, today }: Scope,
  accountId: AccountId,
  months: readonly Month[],
  previous: StatementHead | null,
): Promise<readonly StatementMonth[]> {
  const [first] = months;
  if (first === undefined) return [];
  const movements = await sumMovementsByMonth(tx, accountId, {
    from: firstDay(first),
    through: lastDay(monthOf(today)),
    throughPosting: null,
    told: previous && { through: lastDay(previous.month), posting: previous.posting },
  });
  const told = previous === null ? fromFirstMovement(months, movements) : months;
  return monthFigures(told, movements).map((figures) => ({ ...figures, issuedAt: null }));
}

async function runningBefore(
  { tx }: Scope,
  accountId: AccountId,
  months: readonly Month[],
  next: StatementHead,
): Promise<readonly StatementMonth[]> {
  const [first] = months;
  if (first === undefined) return [];
  const movements = await sumMovementsByMonth(tx, accountId, {
    from: firstDay(first),
    through: addDays(firstDay(next.month), -1),
    throughPosting: next.posting,
    told: null,
  });
  if (movements.length === 0) return [];
  return monthFigures(fromFirstMovement(months, movements), movements).map((figures) => ({
    ...figures,
    issuedAt: null,
  }));
}

/** An account's list begins with its first posting; where there is none, with this month. */
function fromFirstMovement(
  months: readonly Month[],
  movements: Awaited<ReturnType<typeof sumMovementsByMonth>>,
): readonly Month[] {
  const first = months[0];
  const earliest = movements.map((movement) => movement.month ?? first).toSorted()[0] ?? months.at(-1);
  return months.filter((month) => earliest === undefined || month >= earliest);
}

/** A month that was passed over between two that were issued had nothing to tell. */
function issued(heads: readonly StatementHead[]): readonly StatementMonth[] {
  return heads.flatMap((head, index) => {
    const { month, openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor, issuedAt } = head;
    const own = { month, openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor, issuedAt };
    const next = heads[index + 1];
    if (next === undefined) return [own];
    const still = { openingMinor: closingMinor, chargesMinor: 0n, creditsMinor: 0n, paymentsMinor: 0n };
    const between = monthsBetween(month, next.month);
    return [own, ...between.map((each) => ({ month: each, ...still, closingMinor, issuedAt: null }))];
  });
}

function monthsBetween(after: Month, before: Month): readonly Month[] {
  const months: Month[] = [];
  for (let month = monthAfter(after); month < before; month = monthAfter(month)) months.push(month);
  return months;
}

function monthAfter(month: Month): Month {
  return monthOf(addDays(lastDay(month), 1));
}

/** Earliest first, this month last. */
function latestMonths(today: Day, count: number): readonly Month[] {
  const months = [monthOf(today)];
  for (let month = monthOf(today); months.length < count; months.push(month))
    month = monthOf(addDays(firstDay(month), -1));
  return months.toReversed();
}
