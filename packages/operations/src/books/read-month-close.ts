import {
  listMonthClosings,
  listMonthsOfBooks,
  type MonthOfBooks,
  type NamedMonthClosing,
} from '@grainwright/db';
import { dayWords, monthWords } from '@grainwright/documents';
import {
  addDays,
  type Day,
  firstDay,
  lastDay,
  type Month,
  monthOf,
  ok,
  parseMonth,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type MonthCheck, monthChecks } from './month-checks.ts';

export interface ReadMonthCloseInput {
  /** `2026-10`; null for the earliest month that is over and open, or the last one. */
  readonly month: string | null;
}

export interface MonthCloseView {
  readonly month: Month;
  readonly from: Day;
  readonly to: Day;
  readonly closed: boolean;
  readonly checks: readonly MonthCheck[];
  /** Why it can't be closed now; null when it can, or is. */
  readonly notYet: string | null;
  /** Why it can't be opened again; null when it can, or is open. */
  readonly notOpened: string | null;
  /** Every month with postings or closings, the latest first. */
  readonly months: readonly MonthOfBooks[];
  /** What was done to months, the latest first. */
  readonly trail: readonly NamedMonthClosing[];
}

const trailMax = 100;

export function readMonthClose(
  services: Services,
  actor: Actor,
  input: ReadMonthCloseInput,
): Promise<Result<MonthCloseView>> {
  return performAsStaff(services, actor, 'see_ledger', async (scope) => {
    const months = await listMonthsOfBooks(scope.tx);
    const month =
      input.month === null ? ok(monthToClose(months, scope.today)) : parseMonth(input.month.trim());
    return month.ok ? ok(await monthCloseView(scope, month.value)) : month;
  });
}

async function monthCloseView(scope: Scope, month: Month): Promise<MonthCloseView> {
  const months = await listMonthsOfBooks(scope.tx);
  const checks = await monthChecks(scope, month);
  const closed = isClosed(months, month);
  const closing = canClose(months, checks, month, scope.today);
  const opening = canReopen(months, month);
  return {
    month,
    from: firstDay(month),
    to: lastDay(month),
    closed,
    checks,
    notYet: closed || closing.ok ? null : closing.problem.detail,
    notOpened: !closed || opening.ok ? null : opening.problem.detail,
    months,
    trail: await listMonthClosings(scope.tx, trailMax),
  };
}

export function isClosed(months: readonly MonthOfBooks[], month: Month): boolean {
  return months.some((each) => each.month === month && each.closed);
}

/** Months are closed in their order, when they are over and their books hold. */
export function canClose(
  months: readonly MonthOfBooks[],
  checks: readonly MonthCheck[],
  month: Month,
  today: Day,
): Result<true> {
  const last = lastDay(month);
  if (today <= last)
    return refuse(
      'wrong_state',
      `${monthWords(month)} runs until ${dayWords(last)}. It can be closed the day after.`,
      'month',
    );
  const earlier = months.filter((each) => each.month < month && !each.closed && each.postings > 0).at(-1);
  if (earlier !== undefined)
    return refuse(
      'wrong_state',
      `${monthWords(earlier.month)} has postings and is still open. Close it first.`,
      'month',
    );
  const broken = checks.find((check) => check.weight === 'must_hold' && !check.holds);
  return broken === undefined
    ? ok(true)
    : refuse('wrong_state', `The books do not hold: ${broken.words} Have that looked at first.`, 'month');
}

/** The latest closed month is opened first, so that what is closed never has an open month before it. */
export function canReopen(months: readonly MonthOfBooks[], month: Month): Result<true> {
  const later = months.find((each) => each.month > month && each.closed);
  return later === undefined
    ? ok(true)
    : refuse(
        'wrong_state',
        `${monthWords(later.month)} after it is closed. Open that one again first.`,
        'month',
      );
}

function monthToClose(months: readonly MonthOfBooks[], today: Day): Month {
  const over = months.filter((each) => each.month < monthOf(today));
  const open = over.filter((each) => !each.closed && each.postings > 0).at(-1);
  return open?.month ?? over[0]?.month ?? monthOf(addDays(firstDay(monthOf(today)), -1));
}
